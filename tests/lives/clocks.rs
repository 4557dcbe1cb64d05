//! Clocks of use: what is known, what is "at least", and how long a session is over midnight and over clock changes.

use super::view_of;
use crate::checks::compile_text;
use crate::history::part;
use stringline::Compiled;
use stringline::answer::lives::{CountedFailures, KindLives};
use stringline::book::model::Clock;
use stringline::history::order::Rank;
use stringline::lives::life::Lived;
use stringline::lives::lives;

/// A belt with that opening that ran those sessions.
fn belt(opening: &str, sessions: &[&str]) -> Compiled {
    let mut text = format!(
        "shop \"S\"  zone Europe/Dublin\ncar heron \"Heron\"\ncircuit pell \"Pell\"  length 1.20 km\nevent pell-1 2025-05-10..11 at pell \"P\"\n\
         kind belt \"belt\"  fits nose\npart b-1 belt{opening}\n\n2025-05-10 heron at pell-1\n  fit b-1 nose\n"
    );
    for (number, session) in sessions.iter().enumerate() {
        text += &format!("  {:02}:00 run s{}  {session}\n", 9 + number, number + 1);
    }
    compile_text(&text)
}

fn on(compiled: &Compiled, clock: Clock) -> Lived {
    let all = lives(&compiled.book, &compiled.history, Rank::END);
    all.now(part(compiled, "b-1")).unwrap().on(&compiled.book, clock)
}

/// Value in the clock's unit, what of it is from before the book, "at least".
fn told(compiled: &Compiled, clock: Clock) -> (f64, Option<f64>, bool) {
    let lived = on(compiled, clock);
    let unit = match clock {
        Clock::Time => 60.0,
        Clock::Distance => 1000.0,
        _ => 1.0,
    };
    ((lived.value / unit * 1e6).round() / 1e6, lived.before.map(|before| before / unit), lived.at_least)
}

#[test]
fn an_opening_counts_on_the_clocks_it_names() {
    let two = ["20 min  10 laps", "25 min  12 laps  1 launch"];
    let book = belt("  opening 55 min, 2 days, 30 laps", &two);
    assert_eq!(told(&book, Clock::Time), (100.0, Some(55.0), false));
    assert_eq!(told(&book, Clock::Days), (3.0, Some(2.0), false));
    assert_eq!(told(&book, Clock::Laps), (52.0, Some(30.0), false));
    // A clock it leaves out is not known, and never nothing.
    assert_eq!(told(&book, Clock::Launches), (1.0, None, true));
    assert_eq!(told(&book, Clock::Distance), (26.4, None, true));
    assert_eq!(told(&book, Clock::Sessions), (2.0, None, true));
}

#[test]
fn without_an_opening_everything_is_at_least() {
    let book = belt("", &["20 min  10 laps"]);
    for clock in Clock::ALL {
        assert!(on(&book, clock).at_least && on(&book, clock).before.is_none(), "{clock:?}");
    }
    let new = belt("  opening new", &["20 min  10 laps"]);
    for clock in Clock::ALL.into_iter().filter(|clock| *clock != Clock::Months) {
        assert!(!on(&new, clock).at_least, "{clock:?}");
    }
}

#[test]
fn a_session_that_does_not_say_makes_that_clock_at_least() {
    let book = belt("  opening new", &["20 min", "12 laps"]);
    assert_eq!(told(&book, Clock::Time), (20.0, Some(0.0), true));
    assert_eq!(told(&book, Clock::Laps), (12.0, Some(0.0), true));
    assert_eq!(told(&book, Clock::Days), (1.0, Some(0.0), false));
}

/// After a rebuild nothing from before matters, known or not.
#[test]
fn a_rebuild_makes_the_opening_known() {
    let mut text = String::from(
        "car heron \"Heron\"\nkind belt \"belt\"  fits nose\npart b-1 belt\n\n2025-05-10 heron\n  fit b-1 nose\n",
    );
    text += "  09:00 run s1  20 min\n  10:00 rebuild b-1 with rubber\n  11:00 run s2  25 min\n";
    let book = compile_text(&text);
    assert_eq!(told(&book, Clock::Time), (25.0, Some(0.0), false));
}

fn view(compiled: &Compiled) -> KindLives {
    view_of(compiled, "belt", None, &CountedFailures::default())
}

/// Nothing drops out of the list for being unknown, even where nothing is known of any of them.
#[test]
fn what_is_not_known_is_listed_as_that() {
    let book = belt("", &["20 min  10 laps"]);
    let list = view(&book);
    let [life] = list.lives.as_slice() else { panic!("{:?}", list.lives) };
    assert_eq!((life.length, life.length_text.as_str(), life.end), (None, "at least 20", "running"));
    let [spec] = list.specs.as_slice() else { panic!("{:?}", list.specs) };
    assert_eq!((spec.lives, spec.unknown), (0, 1));
    assert_eq!(spec.left_out, ["b-1: how long it ran is not known"]);
    assert_eq!(spec.headline, "No life could be counted yet. 1 more ran for how long is not known.");
}

/// A failure at a life that nobody knows is still a failure: no bound may be built on there being none.
#[test]
fn an_unknown_life_that_failed_is_no_life_without_failure() {
    let mut text = String::from(
        "kind belt \"belt\"  fits nose\ncar heron \"H\"\ncar plover \"P\"\npart b-1 belt  opening new\npart b-2 belt\n",
    );
    text += "\n2025-05-10 heron\n  fit b-1 nose\n  09:00 run s1  90 min\n";
    text += "\n2025-05-10 plover\n  fit b-2 nose\n  09:00 run s1  20 min\n    failed b-2 mode worn\n    remove b-2\n";
    let list = view(&compile_text(&text));
    let spec = &list.specs[0];
    assert_eq!(
        spec.headline,
        "The one life there is has not failed in 90 min. 1 more failed after how long is not known."
    );
    assert_eq!(spec.bound, "");
    let known = view(&compile_text(&text.replace("part b-2 belt\n", "part b-2 belt  opening new\n")));
    assert!(known.specs[0].headline.starts_with("1 of 2 lives failed"), "{}", known.specs[0].headline);
}

/// One session on a date at a circuit with a zone of its own, if any; the shop's is Europe/Dublin.
fn session(date: &str, zone: &str, times: &str) -> Compiled {
    compile_text(&format!(
        "shop \"S\"  zone Europe/Dublin\ncar heron \"Heron\"\ncircuit pell \"Pell\"\nevent pell-1 {date} at pell \"P\"{zone}\n\
         kind belt \"belt\"  fits nose\npart b-1 belt  opening new\n\n{date} heron at pell-1\n  00:01 fit b-1 nose\n  {times} run s1\n"
    ))
}

/// IANA time zone database: Europe/Dublin goes forward at 01:00 on 30 March 2025 and back at 02:00 on 26 October 2025, `America/New_York`
/// forward at 02:00 on 9 March and back at 02:00 on 2 November; Asia/Tokyo never changes.
#[test]
fn over_midnight_and_clock_changes_in_the_events_zone() {
    let new_york = "  zone America/New_York";
    let tokyo = "  zone Asia/Tokyo";
    for (date, zone, times, minutes) in [
        ("2025-05-10", "", "23:40..00:25", 45.0),
        ("2025-03-30", "", "00:50..02:10", 20.0),
        ("2025-03-30", tokyo, "00:50..02:10", 80.0),
        ("2025-03-29", "", "23:50..02:10", 80.0),
        ("2025-10-26", "", "00:30..02:30", 180.0),
        ("2025-10-26", "", "01:50..01:10", 20.0),
        ("2025-10-26", new_york, "00:30..02:30", 120.0),
        ("2025-10-25", "", "23:30..02:30", 240.0),
        ("2025-03-09", new_york, "01:50..03:10", 20.0),
        ("2025-03-09", "", "01:50..03:10", 80.0),
        ("2025-11-02", new_york, "00:50..02:10", 140.0),
    ] {
        let book = session(date, zone, times);
        assert_eq!(told(&book, Clock::Time).0, minutes, "{date}{zone} {times}");
        let days = if times.starts_with("23:") { 2.0 } else { 1.0 };
        assert_eq!(told(&book, Clock::Days).0, days, "{date}{zone} {times}: each day it ran on");
    }
}

/// In Auckland it is Sunday when in Dublin it is still Saturday: the part runs there on Sunday, then (flown and put on within the hour)
/// here on Saturday, and on Sunday again. Two dates.
#[test]
fn dates_of_two_zones_are_counted_once_each() {
    let compiled = compile_text(
        "shop \"S\"  zone Europe/Dublin\ncar heron \"Heron\"\ncar plover \"Plover\"\ncircuit pell \"Pell\"\n\
         event far-1 2025-05-11 at pell \"F\"  zone Pacific/Auckland\nevent pell-1 2025-05-10..11 at pell \"P\"\n\
         kind belt \"belt\"  fits nose\npart b-1 belt  opening new\n\n2025-05-11 heron at far-1\n  00:30 fit b-1 nose\n  01:00 run s1  20 min\n\n\
         2025-05-10 heron\n  15:00 move b-1 -> plover nose\n\n2025-05-10 plover at pell-1\n  16:00 run s1  20 min\n\n\
         2025-05-11 plover at pell-1\n  10:00 run s2  20 min\n",
    );
    assert_eq!(told(&compiled, Clock::Time).0, 60.0);
    assert_eq!(told(&compiled, Clock::Days).0, 2.0);
    let used = stringline::history::usage::of_part(
        &compiled.book,
        &compiled.history,
        part(&compiled, "b-1"),
        Rank::START,
        Rank::END,
    );
    assert_eq!(used.days.len(), 2);
}

/// Of a session in lap 3 of 4, three quarters; of its day and its start, the whole.
#[test]
fn a_failure_in_a_lap_counts_that_share() {
    let compiled = compile_text(
        "car heron \"Heron\"\nkind belt \"belt\"  fits nose\npart b-1 belt  opening new\n\n2025-05-10 heron\n  fit b-1 nose\n  \
         09:00 run s1  20 min  4 laps  1 launch\n    failed b-1 lap 3 mode worn\n    remove b-1\n",
    );
    assert_eq!(told(&compiled, Clock::Time).0, 15.0);
    assert_eq!(told(&compiled, Clock::Laps).0, 3.0);
    assert_eq!((told(&compiled, Clock::Days).0, told(&compiled, Clock::Launches).0), (1.0, 1.0));
}
