//! What a part ran that failed in a stage: through that stage and the road to it, on every clock. Every number is added up by hand from the
//! lines.

use super::{SHOP, part};
use crate::checks::compile_text;
use stringline::Compiled;
use stringline::book::model::Clock;
use stringline::history::order::Rank;
use stringline::history::usage::{Use, of_part};
use stringline::lives;

/// Three stages of 10.5, 14.2 and 10.5 km, 7:10, 9:40 and 7:05, with 12, 20 and 5 km of road; then two of another loop.
const DAY: &str = "2025-05-10 heron at pell-1
  08:00 fit cp-1 LR
  09:00..11:00 run loop1
    stage ss1 10.5 km 7:10.0  road 12 km
    stage ss2 14.2 km 9:40.0  road 20 km
    stage ss3 10.5 km 7:05.0  road 5 km
";

fn stages(lines: &str) -> Compiled {
    compile_text(&format!("{SHOP}{DAY}{lines}"))
}

fn used(compiled: &Compiled) -> Use {
    of_part(&compiled.book, &compiled.history, part(compiled, "cp-1"), Rank::START, Rank::END)
}

fn near(value: f64, expected: f64) {
    assert!((value - expected).abs() < 1e-6, "{value} {expected}");
}

/// 24.7 km of stages, 56.7 km with the road, 16 min 50 s; the same below the session, under it and under the stage.
#[test]
fn it_ran_through_that_stage() {
    for failed in [
        "  failed cp-1 during ss2 mode split\n",
        "  failed cp-1 during SS2 mode split\n",
        "    failed cp-1 during ss2 mode split\n",
    ] {
        let book = stages(&format!("{failed}  remove cp-1 failed\n"));
        let errors: Vec<_> = book.diagnostics.iter().map(|one| one.check).collect();
        assert!(!errors.contains(&"session-unknown"), "{errors:?}");
        let sum = used(&book);
        near(sum.on(Clock::StageDistance).0, 24_700.0);
        near(sum.on(Clock::Distance).0, 56_700.0);
        near(sum.on(Clock::Time).0, 1010.0);
        assert_eq!(sum.on(Clock::Sessions).0.to_string(), "1");
        // The road was not timed, as everywhere.
        assert!(sum.on(Clock::Time).1 && !sum.on(Clock::StageDistance).1 && !sum.on(Clock::Distance).1);
        // Its life says the same.
        let life = lives::life::of(&book.book, &book.history, part(&book, "cp-1"), Rank::END).pop();
        near(life.expect("a life").run.on(Clock::StageDistance).0, 24_700.0);
    }
    let under = DAY.replace("road 20 km\n", "road 20 km\n      failed cp-1 mode split\n");
    let sum = used(&compile_text(&format!("{SHOP}{under}")));
    near(sum.on(Clock::StageDistance).0, 24_700.0);
    // In the last stage it ran all of it.
    let sum = used(&stages("  failed cp-1 during ss3 mode split\n"));
    near(sum.on(Clock::StageDistance).0, 35_200.0);
}

/// Behind a stop at which something was done: 10.5 km before it, and of the 24.7 behind it the first 14.2.
#[test]
fn a_service_within_the_loop_changes_nothing() {
    let served =
        DAY.replace("    stage ss2", "    stop 20 min\n      set toe-in front 1.0 mm total\n    stage ss2");
    for (stage, metres) in [("ss1", 10_500.0), ("ss2", 24_700.0), ("ss3", 35_200.0)] {
        let lines = format!("{SHOP}{served}  failed cp-1 during {stage} mode split\n");
        near(used(&compile_text(&lines)).on(Clock::StageDistance).0, metres);
    }
}

/// Road that only the session states may have been before or after: what is known is the least.
#[test]
fn what_the_stages_do_not_tell_is_not_known() {
    let road = DAY.replace("run loop1", "run loop1  road 60 km");
    let sum = used(&compile_text(&format!("{SHOP}{road}  failed cp-1 during ss1 mode split\n")));
    assert!(sum.on(Clock::Distance).1);
    near(sum.on(Clock::StageDistance).0, 10_500.0);
}

#[test]
fn a_stage_that_is_none_or_several_is_asked_about() {
    let said = |lines: &str| -> Vec<String> {
        let all = stages(lines).diagnostics.into_iter().filter(|one| one.check.starts_with("session-"));
        all.map(|one| format!("{}: {}", one.check, one.message)).collect()
    };
    let again = "  13:00..15:00 run loop2\n    stage ss1 10.5 km 7:00.0\n";
    assert_eq!(
        said(&format!("{again}  hit RF during ss1\n")),
        ["session-unknown: heron drove more than one stage ss1 at pell-1."]
    );
    assert_eq!(said(&format!("{again}    hit RF during ss1\n")), Vec::<String>::new());
    assert_eq!(said("  hit RF during ss9\n"), ["session-unknown: heron ran no ss9 at pell-1."]);
    // What came on after a stage came on within a session.
    assert_eq!(said("  fit cp-2 RR  after ss2\n"), ["session-unknown: heron ran no ss2 at pell-1."]);
    let other = "  13:00..15:00 run loop2\n    stage ss4 10.5 km 7:00.0\n    hit RF during ss2\n";
    assert_eq!(said(other).len(), 1, "{:?}", said(other));
}
