//! Legs of a session: what ran all of it ran what the session did, whatever stands under its stops. Every number is worked out by hand.

// Whole minutes add up exactly.
#![allow(clippy::float_cmp)]

use super::part;
use crate::checks::compile_text;
use crate::figures::{close, missing, trace};
use stringline::Compiled;
use stringline::book::model::Clock;
use stringline::history::order::Rank;
use stringline::history::usage::of_part;

const HEAD: &str = "shop \"S\"  zone Europe/London
person ada \"Ada\"
person bo \"Bo\"
kind pads \"pads\"  fits front
kind box \"gearbox\"  fits box
part p1 pads  opening new
part p2 pads  opening new
part b1 box  opening new
circuit pell \"Pell\"  length 2 km
event pell-1 2025-05-10..11 at pell \"Pell\"
car heron \"Heron\"
2025-05-10 heron at pell-1
  fit p1 front
  fit b1 box
";

fn book(lines: &str) -> Compiled {
    compile_text(&format!("{HEAD}{lines}"))
}

/// Minutes, laps and kilometres of a part, each with whether that is the least.
fn ran(book: &Compiled, name: &str) -> [(f64, bool); 3] {
    let ran = of_part(&book.book, &book.history, part(book, name), Rank::START, Rank::END);
    let ([time, laps, way], least) =
        ([Clock::Time, Clock::Laps, Clock::Distance].map(|clock| ran.on(clock).0), |clock| ran.on(clock).1);
    [(time / 60.0, least(Clock::Time)), (laps, least(Clock::Laps)), (way / 1000.0, least(Clock::Distance))]
}

const RACE: &str = "  10:00..12:00 run race  110 min  50 laps\n    stint ada\n    stop\n      fill fuel +20 L\n    stint bo\n";

/// Of an untimed stop nobody knows when it was, and what was on from start to end ran the whole.
#[test]
fn a_part_that_was_on_throughout_has_all_of_the_session() {
    let all = [(110.0, false), (50.0, false), (100.0, false)];
    let refuelled = book(RACE);
    assert_eq!(ran(&refuelled, "p1"), all);
    assert_eq!(ran(&refuelled, "b1"), all);
    let odometer = refuelled.history.odometer(super::car(&refuelled, "heron")).expect("its sums");
    let leg = odometer.leg(odometer.between(Rank::START, Rank::END)).expect("it ran");
    assert_eq!((leg.sums[0], leg.sums[1], leg.unsaid), (110 * 60_000_000, 50, [false; 4]));
    // Of what moved at it, nobody knows; of the gearbox all is known still.
    let moved = book(&RACE.replace("fill fuel +20 L", "swap pads front p1 -> p2  because worn"));
    assert_eq!(ran(&moved, "b1"), all);
    assert!(
        ran(&moved, "p1").iter().chain(&ran(&moved, "p2")).all(|(amount, least)| *amount == 0.0 && *least)
    );
}

/// The road of a run is of all of it, too.
#[test]
fn the_road_of_a_run_is_known_of_what_ran_all_of_it() {
    let loops = book(
        "  run loop  road 30 km\n    stage ss1 10 km 6:00.0\n    stop\n      fill fuel +5 L\n    stage ss2 12 km 7:00.0\n",
    );
    assert_eq!(ran(&loops, "b1")[2], (52.0, false));
}

/// 110 minutes at 60 L/h, of 100 L and 20 more: whenever the stop was, 10 are left.
#[test]
fn fuel_of_one_rate_is_burnt_whenever_the_stop_was() {
    let text = format!("{HEAD}  set fuel-rate 60 L/h\n  fill fuel 100 L\n{RACE}");
    close(&trace(&text, &["heron", "fuel-aboard"]).0, "value", 10.0, 1e-9);
    // Another rate from the stop on is of a part of it that nobody knows.
    let other = text.replace("fill fuel +20 L", "set fuel-rate 30 L/h");
    let lacks = missing(&other, &["heron", "fuel-aboard"]);
    assert!(lacks.contains("minutes of race"), "{lacks}");
    // Where the stop says when it was, the new rate is of what ran behind it: 100 - 50 - 55 / 2.
    let timed = other
        .replace("    stint ada\n", "    10:00..10:50 stint ada\n")
        .replace("    stop\n", "    10:50..11:05 stop\n")
        .replace("    stint bo\n", "    11:05..12:00 stint bo\n")
        .replace("  110 min  50 laps", "");
    close(&trace(&timed, &["heron", "fuel-aboard"]).0, "value", 22.5, 1e-9);
}

/// Pads that went on before anything ran were in one session, and those they replaced in none.
#[test]
fn a_part_that_never_ran_has_no_session() {
    let book = book(
        "  10:00..12:00 run race\n    10:00..10:10 stop\n      swap pads front p1 -> p2  because squeal\n    10:10..12:00 stint ada\n",
    );
    let sessions = |name: &str| {
        of_part(&book.book, &book.history, part(&book, name), Rank::START, Rank::END).on(Clock::Sessions)
    };
    assert_eq!((sessions("p1"), sessions("p2")), ((0.0, false), (1.0, false)));
    assert_eq!((ran(&book, "p1")[0], ran(&book, "p2")[0]), ((0.0, false), (110.0, false)));
}

fn minutes(lines: &str) -> (Option<f64>, Vec<Option<f64>>) {
    let book = book(lines);
    let (id, session) = book.history.sessions.all.iter_enumerated().next().unwrap();
    (session.minutes, book.history.sessions.drives(id).map(|(.., minutes)| minutes).collect())
}

/// The open stint has what the others leave of the minutes typed; of the clock's, without the stops, where none are typed or those typed are the
/// clock's.
#[test]
fn minutes_typed_come_before_the_clock() {
    let stints = |run: &str, stop: &str| {
        minutes(&format!("  10:00..12:00 run race{run}\n    10:00..10:50 stint ada\n{stop}    stint bo\n"))
    };
    assert_eq!(stints("  110 min", ""), (Some(110.0), vec![Some(50.0), Some(60.0)]));
    assert_eq!(stints("", ""), (Some(120.0), vec![Some(50.0), Some(70.0)]));
    let stop = "    10:50..11:00 stop\n";
    assert_eq!(stints("  110 min", stop), (Some(110.0), vec![Some(50.0), Some(60.0)]));
    assert_eq!(stints("", stop), (Some(110.0), vec![Some(50.0), Some(60.0)]));
    assert_eq!(stints("  120 min", stop), (Some(110.0), vec![Some(50.0), Some(60.0)]));
    // More than there is by the clock is said.
    let said =
        book("  10:00..12:00 run race  140 min\n    10:00..10:50 stint ada\n    stint bo\n").diagnostics;
    let words = |one: &stringline::diagnostics::Diagnostic| format!("{}: {}", one.check, one.message);
    let all: Vec<String> = said.iter().map(words).collect();
    assert_eq!(all, ["minutes-against-clock: race says 140 min, and its times are 120 min apart."]);
    // And that stints come to less, without stops that there are none of.
    let said = book(
        "  10:00..12:00 run race  100 min\n    10:00..10:50 stint ada\n    10:50..12:00 stint bo\n    stop\n",
    );
    assert!(!said.diagnostics.iter().any(|one| one.message.contains("-0")), "{:?}", said.diagnostics);
    let said =
        book("  10:00..12:00 run race  100 min\n    10:00..10:50 stint ada\n    10:50..11:20 stint bo\n")
            .diagnostics;
    let all: Vec<String> = said.iter().map(words).collect();
    assert_eq!(all, ["minutes-against-clock: race says 100 min, and its stints and stages come to 80 min."]);
}

/// Whether a stage was driven in a stint or beside it, nothing says.
#[test]
fn stints_and_stages_are_not_added_together() {
    let lines = "  10:00..11:00 run loop\n    stint ada  10 min\n    stage ss1 10 km 6:00.0\n    stage ss2 10 km 4:00.0\n";
    assert_eq!(minutes(lines), (None, vec![None, None, None]));
    let text = format!("{HEAD}  set fuel-rate 60 L/h\n  fill fuel 50 L\n{lines}");
    assert!(missing(&text, &["heron", "fuel-aboard"]).contains("minutes"));
    let said: Vec<String> = book(lines).diagnostics.iter().map(|one| one.check.to_owned()).collect();
    assert_eq!(said, ["stages-beside-stints"]);
}
