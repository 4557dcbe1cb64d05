//! What a part ran after a line with a mistake that may have taken it off: at least what it had run until then, on every clock, and no more
//! is told; nor of what is inside of it.

use super::{book, part};
use stringline::book::model::Clock;
use stringline::history::order::Rank;
use stringline::history::usage::of_part;

/// Sessions of 20 minutes each.
const SESSIONS: usize = 4;

/// A book in which that line stands after the first `before` sessions.
fn with(fits: &str, before: usize, line: &str) -> String {
    let mut text = format!("2025-05-10 heron at pell-1\n{fits}");
    for at in 0..SESSIONS {
        if at == before {
            text += line;
        }
        text += &format!("  run s{}  20 min  10 laps\n", at + 1);
    }
    if before == SESSIONS {
        text += line;
    }
    text
}

#[test]
fn a_part_that_may_have_come_off_ran_at_least_what_it_had_run() {
    let coupling = "  fit cp-1 LR\n";
    let nest = "  build hub-1 into up-1\n  build wb-1 into hub-1\n  fit up-1 LF\n";
    for (fits, line, parts) in [
        (coupling, "  remove cp-1 goood\n", &["cp-1"][..]),
        (coupling, "  swap coupling LR cp-1 -> cp-1x\n", &["cp-1"]),
        (coupling, "  move cp-1 -> plovr prop\n", &["cp-1"]),
        (nest, "  remove up-1 goood\n", &["up-1", "hub-1", "wb-1"]),
        (nest, "  strip hub-1 form up-1\n", &["hub-1", "wb-1"]),
    ] {
        for before in 0..=SESSIONS {
            let made = book(&with(fits, before, line));
            let wrong = made
                .diagnostics
                .iter()
                .filter(|one| one.severity == stringline::diagnostics::Severity::Error);
            assert_eq!(wrong.count(), 1, "{line}{:?}", made.diagnostics);
            for name in parts {
                let run = of_part(&made.book, &made.history, part(&made, name), Rank::START, Rank::END);
                let doubted = before < SESSIONS;
                assert_eq!(run.on(Clock::Time), (before as f64 * 1200.0, doubted), "{name} {before} {line}");
                assert_eq!(run.on(Clock::Laps), (before as f64 * 10.0, doubted), "{name} {before} {line}");
                assert_eq!(run.on(Clock::Sessions), (before as f64, doubted), "{name} {before} {line}");
                assert_eq!(
                    run.on(Clock::Days),
                    (f64::from(u8::from(before > 0)), doubted),
                    "{name} {before} {line}"
                );
                let lives =
                    stringline::lives::life::of(&made.book, &made.history, part(&made, name), Rank::END);
                let last = lives.last().unwrap().on(&made.book, Clock::Time);
                assert_eq!(
                    (last.value, last.at_least),
                    (before as f64 * 1200.0, doubted),
                    "{name} {before} {line}"
                );
            }
        }
    }
}

/// What has nothing to do with the line is told as before; a line that places the part again ends the doubt from there on.
#[test]
fn other_parts_and_later_lines_are_sure() {
    let fits = "  fit cp-1 LR\n  fit cp-2 RR\n";
    let made = book(&with(fits, 1, "  remove cp-1 goood\n"));
    let other = of_part(&made.book, &made.history, part(&made, "cp-2"), Rank::START, Rank::END);
    assert_eq!(other.on(Clock::Time), (4.0 * 1200.0, false));
    let again = format!(
        "{}2025-05-11 heron at pell-1\n  remove cp-1\n  fit cp-1 LR\n  run s9  20 min  10 laps\n",
        with(fits, 1, "  remove cp-1 goood\n")
    );
    let made = book(&again);
    let part = part(&made, "cp-1");
    let all = of_part(&made.book, &made.history, part, Rank::START, Rank::END);
    // 20 min before the line, three sessions of which nobody knows, 20 min after it was fitted again.
    assert_eq!(all.on(Clock::Time), (2.0 * 1200.0, true));
}

/// Work that comes round and limits count as little: after the line 20 min are sure of a rebuild wanted every 30, and of a life of 50, until what
/// it is inside of is placed again; then what is sure goes past both, and says "at least". (A line that names the part itself may have been the
/// work, so that nothing is said of it.)
#[test]
fn work_and_limits_count_what_is_sure() {
    let shop = "car heron \"Heron\"\nkind upright \"upright\"  fits LF on heron\n\
                kind hub \"hub\"  life 50 min  every 30 min rebuild\npart up-1 upright\npart hub-1 hub  opening new\n\
                2025-05-10 heron\n  build hub-1 into up-1\n  fit up-1 LF\n  run s1  20 min\n";
    let broken = format!("{shop}  remove up-1 goood\n  run s2  20 min\n  run s3  20 min\n");
    let said = |text: &str| -> Vec<String> {
        let made = crate::checks::compile_text(text);
        let about = ["interval-overdue", "life-over-limit"];
        let all = made.diagnostics.iter().filter(|one| about.contains(&one.check));
        all.map(|one| one.message.clone()).collect()
    };
    assert_eq!(said(&broken), Vec::<String>::new());
    let again = format!(
        "{broken}2025-05-11 heron\n  remove up-1\n  fit up-1 LF\n  run s4  20 min\n  run s5  20 min\n"
    );
    let told = said(&again);
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(told.iter().all(|one| one.contains("at least")), "{told:?}");
}
