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

/// Minutes of a part, and whether that is the least.
fn minutes_of(book: &Compiled, name: &str) -> (f64, bool) {
    ran(book, name)[0]
}

const DAY: &str =
    "  12:00..16:00 run race\n    12:00..14:00 stint ada\n    14:00..14:30 stop\n    14:30..16:00 stint bo\n";

fn checks(book: &Compiled) -> Vec<&str> {
    book.diagnostics.iter().map(|one| one.check).collect()
}

/// A part that another block of the car changes while it stands has what ran from there on: 120 minutes before, 90 after.
#[test]
fn what_another_block_does_at_a_stop_is_done_then() {
    let swap = "2025-05-10 14:10 heron at pell-1\n  swap pads front p1 -> p2  because worn\n";
    for stop in ["", "      set fuel-rate 30 L/h\n"] {
        let lines = DAY.replace("stop\n", &format!("stop\n{stop}"));
        let book = book(&format!("{lines}{swap}"));
        assert_eq!(checks(&book), Vec::<&str>::new());
        assert_eq!((minutes_of(&book, "p1"), minutes_of(&book, "p2")), ((120.0, false), (90.0, false)));
        assert_eq!(minutes_of(&book, "b1"), (210.0, false));
    }
    // Below the session, in its own block, it is no different; nor where nobody says who drove, nor where the hole between two stints is no stop.
    let own = "  14:10 swap pads front p1 -> p2  because worn\n";
    for lines in [
        DAY.to_owned(),
        "  12:00..16:00 run race\n    14:00..14:30 stop\n".to_owned(),
        DAY.replace("    14:00..14:30 stop\n", ""),
    ] {
        let book = book(&format!("{lines}{own}"));
        assert_eq!(
            (minutes_of(&book, "p1"), minutes_of(&book, "p2")),
            ((120.0, false), (90.0, false)),
            "{lines}"
        );
    }
    // The sums that are asked without walking are the same.
    let book = book(&format!("{DAY}{own}"));
    let odometer = book.history.odometer(super::car(&book, "heron")).expect("its sums");
    let all = odometer.leg(odometer.between(Rank::START, Rank::END)).expect("it ran");
    assert_eq!(all.sums[0], 210 * 60_000_000);
}

/// A part that moves at a time at which the car ran, or at which nobody knows whether it did, is said; of neither part is more known than what
/// ran before and after.
#[test]
fn what_moved_while_the_car_ran_is_asked_about() {
    let swap = "2025-05-10 15:00 heron at pell-1\n  swap pads front p1 -> p2  because worn\n";
    let moved = book(&format!("{DAY}{swap}"));
    assert_eq!(checks(&moved), ["moved-while-running"]);
    assert_eq!((minutes_of(&moved, "p1"), minutes_of(&moved, "p2")), ((120.0, true), (0.0, true)));
    assert_eq!(minutes_of(&moved, "b1"), (210.0, false));
    // Without a stop, or with one that has no time.
    for lines in
        ["  12:00..16:00 run race\n", "  12:00..16:00 run race\n    stint ada\n    stop\n    stint bo\n"]
    {
        let moved = book(&format!("{lines}{swap}"));
        assert!(checks(&moved).contains(&"moved-while-running"), "{lines}");
        assert_eq!(
            (minutes_of(&moved, "p1"), minutes_of(&moved, "p2")),
            ((0.0, true), (0.0, true)),
            "{lines}"
        );
        let known = minutes_of(&moved, "b1");
        assert_eq!(known, if lines.contains("stop") { (0.0, true) } else { (240.0, false) }, "{lines}");
    }
    // At its end, or before it began, it is as it was.
    for (at, expected) in [("16:00", (210.0, 0.0)), ("11:50", (0.0, 210.0))] {
        let moved = book(&format!("{DAY}{}", swap.replace("15:00", at)));
        assert_eq!(checks(&moved), Vec::<&str>::new(), "{at}");
        assert_eq!((minutes_of(&moved, "p1").0, minutes_of(&moved, "p2").0), expected, "{at}");
    }
}

/// What goes on again at the stop at which it came off, and what another car's block brings, leaves no place empty: 80 minutes from the
/// half hour on.
#[test]
fn a_place_that_is_filled_before_the_car_goes_on_was_never_empty() {
    let shop = "person ada \"Ada\"\nkind hub \"hub\"  fits RR  must\npart h1 hub  opening new\npart h2 hub  opening new\n\
                part h3 hub  opening new\ncar heron \"Heron\"\ncar plover \"Plover\"\n2025-05-10 plover\n  fit h2 RR\n\
                2025-05-10 heron\n  fit h1 RR\n  22:00..02:00 run race\n    22:00..00:00 stint ada\n    00:00..00:30 stop\n      \
                remove h1\n    00:30..01:00 stint ada\n    01:00..01:10 stop\n    01:10..02:00 stint ada\n";
    let moved = compile_text(&format!("{shop}2025-05-11 00:20 plover\n  move h2 -> heron RR\n"));
    assert_eq!(checks(&moved), Vec::<&str>::new());
    assert_eq!((minutes_of(&moved, "h1"), minutes_of(&moved, "h2")), ((120.0, false), (80.0, false)));
    let fitted = compile_text(&shop.replace("remove h1\n", "remove h1\n      fit h3 RR\n"));
    assert_eq!(checks(&fitted), Vec::<&str>::new());
    assert_eq!(minutes_of(&fitted, "h3"), (80.0, false));
    // Nothing at all, and it ran so.
    let empty = compile_text(shop);
    assert!(checks(&empty).contains(&"empty-place-ran"));
}

/// A part that went on after midnight ran on one day; the session is of both, and so is what was on from its start.
#[test]
fn days_are_those_on_which_it_ran() {
    let book = book(
        "  fit p2 rear\n  22:00..02:00 run race\n    22:00..00:00 stint ada\n    00:00..00:30 stop\n      swap gearbox box b1 -> b2\n    \
         00:30..02:00 stint bo\n2025-05-11 heron at pell-1\n  10:00..10:10 run s2\n"
            .replace("  fit p2 rear\n", "")
            .replace("swap gearbox box b1 -> b2", "swap pads front p1 -> p2  because worn")
            .as_str(),
    );
    let days =
        |name: &str| of_part(&book.book, &book.history, part(&book, name), Rank::START, Rank::END).days.len();
    assert_eq!((days("p1"), days("p2"), days("b1")), (1, 1, 2));
    let odometer = book.history.odometer(super::car(&book, "heron")).expect("its sums");
    let all = odometer.leg(odometer.between(Rank::START, Rank::END)).expect("it ran");
    assert_eq!(all.dates.len(), 2);
}
