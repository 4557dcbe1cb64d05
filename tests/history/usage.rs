//! How much a part has run, clock by clock.

// Whole minutes add up exactly.
#![allow(clippy::float_cmp)]

use super::{book, part, rank};
use stringline::Compiled;
use stringline::book::model::Clock;
use stringline::history::order::Rank;
use stringline::history::usage::{Use, of_part, since_rebuild};

fn used(compiled: &Compiled, name: &str) -> Use {
    of_part(&compiled.book, &compiled.history, part(compiled, name), Rank::START, Rank::END)
}

/// Two days, three sessions: 20 + 25 + 30 minutes, 10 + 12 laps and one session that says none, 1.20 km a lap.
const DAYS: &str = "2025-05-09 heron
  fit cp-1 LR

2025-05-10 heron at pell-1
  09:00..09:20 run s1  10 laps  1 launch
  10:00..10:25 run s2  12 laps  2 launches

2025-05-11 heron at pell-1
  09:00..09:30 run s3
";

#[test]
fn every_clock_counts_by_itself() {
    let compiled = book(DAYS);
    let sum = used(&compiled, "cp-1");
    assert_eq!(sum.on(Clock::Time), (75.0 * 60.0, false));
    assert_eq!(sum.on(Clock::Laps), (22.0, true), "one session does not say its laps");
    let (distance, at_least) = sum.on(Clock::Distance);
    assert!((distance - 22.0 * 1200.0).abs() < 1e-6 && at_least);
    assert_eq!(sum.on(Clock::Days), (2.0, false));
    assert_eq!(sum.on(Clock::Events), (1.0, false));
    assert_eq!(sum.on(Clock::Sessions), (3.0, false));
    assert_eq!(sum.on(Clock::Launches), (3.0, false));
    assert_eq!(sum.on(Clock::HeatCycles), (3.0, false));
}

#[test]
fn a_session_counts_for_what_was_on_when_it_began() {
    let compiled = book(
        "2025-05-10 heron at pell-1
  09:00..09:20 run s1
  09:30 fit cp-1 LR
  10:00..10:25 run s2
    remove cp-1
  11:00..11:40 run s3
",
    );
    assert_eq!(used(&compiled, "cp-1").on(Clock::Time), (25.0 * 60.0, false));
}

/// 13 of 14 laps of 28 minutes are 26 minutes.
#[test]
fn a_failure_in_lap_13_counts_that_share_of_the_session() {
    let lines = |lap: &str| {
        format!(
            "2025-05-10 heron at pell-1\n  08:00 fit cp-1 LR\n  09:00..09:28 run s1  14 laps\n  09:40 failed cp-1 during s1{lap}\n  \
             09:50 remove cp-1\n  11:00..11:40 run s2\n"
        )
    };
    let shared = used(&book(&lines(" lap 13")), "cp-1");
    assert!((shared.minutes - 26.0).abs() < 1e-9, "{}", shared.minutes);
    assert_eq!(shared.laps, 13);
    assert_eq!(shared.sessions, 1);
    let whole = used(&book(&lines("")), "cp-1");
    assert_eq!((whole.minutes, whole.laps), (28.0, 14));
    // The other parts of the car ran the whole session.
    let compiled = book(&format!("{}\n2025-05-09 heron\n  fit cp-2 RR\n", lines(" lap 13")));
    assert_eq!(used(&compiled, "cp-2").minutes, 68.0);
}

/// Ten laps of three minutes in the wet, ten of one in the dry: the twelfth ends after 32 minutes, where the mean of the run says 24. What the stints do not tell
/// the mean does.
#[test]
fn a_failure_in_a_lap_of_a_divided_session_counts_its_stints() {
    let lines = |first: &str, second: &str| {
        format!(
            "person ned \"Ned\"\nperson amy \"Amy\"\n2025-05-10 heron at pell-1\n  08:00 fit cp-1 LR\n  run race 40 min  20 laps\n    stint ned {first}\n    \
             stint amy {second}\n  failed cp-1 during race lap 12\n  remove cp-1\n"
        )
    };
    let minutes = |first: &str, second: &str| used(&book(&lines(first, second)), "cp-1").minutes;
    assert!((minutes("30 min 10 laps", "10 min 10 laps") - 32.0).abs() < 1e-9);
    assert!((minutes("30 min", "10 min") - 24.0).abs() < 1e-9);
    assert!((minutes("30 min 10 laps", "10 min 9 laps") - 24.0).abs() < 1e-9);
}

/// Of a stint that tells no minutes nobody knows how long the car ran; what the others tell it ran for certain: 90 of the first session, all 50 of the second,
/// 90 of the third, in which a stop was of nobody knows how long.
#[test]
fn what_the_stints_of_a_session_tell_it_ran_for_certain() {
    let text = "person ned \"Ned\"\nperson amy \"Amy\"\n2025-05-10 heron at pell-1\n  08:00 fit cp-1 LR\n  run s1\n    stint ned 90 min\n    stint amy\n  \
                run s2\n    stint ned 30 min\n    stop\n    stint amy 20 min\n  12:00..14:00 run s3\n    12:00..13:30 stint ned\n    stop\n    stint amy\n";
    let all = book(text);
    assert_eq!(used(&all, "cp-1").on(Clock::Time), (230.0 * 60.0, true));
    let tally = |part: &str| {
        let lives = stringline::lives::lives(&all.book, &all.history, stringline::history::order::Rank::END);
        lives.now(super::part(&all, part)).unwrap().run.on(Clock::Time)
    };
    assert_eq!(tally("cp-1"), (230.0 * 60.0, true));
    // What is on from a stop on has what is told from there.
    let swapped = book(
        "person ned \"Ned\"\nperson amy \"Amy\"\n2025-05-10 heron at pell-1\n  08:00 fit cp-1 LR\n  run race\n    stint ned 30 min\n    stop\n      \
         swap coupling LR cp-1 -> cp-2\n    stint amy\n    stint ned 10 min\n",
    );
    assert_eq!(used(&swapped, "cp-1").on(Clock::Time), (30.0 * 60.0, false));
    assert_eq!(used(&swapped, "cp-2").on(Clock::Time), (10.0 * 60.0, true));
}

#[test]
fn a_nest_counts_along_the_whole_path() {
    let compiled = book(
        "2025-05-01
  build wb-1 into hub-1
  build hub-1 into up-1

2025-05-10 heron at pell-1
  08:00 fit up-1 LF
  09:00..09:20 run s1
  09:30 move up-1 -> plover LF
  10:00..10:40 run s2

2025-05-10 plover at pell-1
  10:00..10:25 run s1
  11:00 strip wb-1 from hub-1
  12:00..12:30 run s2
",
    );
    assert_eq!(used(&compiled, "up-1").minutes, 75.0);
    assert_eq!(used(&compiled, "hub-1").minutes, 75.0);
    assert_eq!(used(&compiled, "wb-1").minutes, 45.0);
}

#[test]
fn a_rebuild_begins_a_new_life_for_the_named_part_or_for_all_inside() {
    let lines = |words: &str| {
        format!(
            "2025-05-01\n  build wb-1 into hub-1\n  build hub-1 into up-1\n\n2025-05-10 heron at pell-1\n  08:00 fit up-1 LF\n  \
             09:00..09:20 run s1\n  10:00 rebuild up-1{words}\n  11:00..11:35 run s2\n"
        )
    };
    for (words, inner) in [("", 55.0), (" with all", 35.0)] {
        let compiled = book(&lines(words));
        let end = Rank::END;
        let life = |name: &str| {
            let id = part(&compiled, name);
            let from = since_rebuild(&compiled.history, id, end);
            of_part(&compiled.book, &compiled.history, id, from, end).minutes
        };
        assert_eq!(life("up-1"), 35.0, "{words}");
        assert_eq!(life("hub-1"), inner, "{words}");
        assert_eq!(life("wb-1"), inner, "{words}");
        // Before the rebuild, the old life stands.
        let before = rank(&compiled, "heron", "pell-1/after-s1");
        let id = part(&compiled, "up-1");
        assert_eq!(since_rebuild(&compiled.history, id, before), Rank::START);
        assert_eq!(of_part(&compiled.book, &compiled.history, id, Rank::START, before).minutes, 20.0);
    }
}
