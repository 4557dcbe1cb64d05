//! What a car is expected to run: its own mean, over the events up to the one asked about.

use super::{SHOP, list, on, ran, row};
use stringline::answer::due::{CarView, DueView};

/// A belt on each car: 300 min of life, nothing on it before.
const BELTS: &str =
    "kind belt \"belt\"  fits nose  life 300 min\npart b-1 belt  opening new\npart b-2 belt  opening new\n";

fn book(rest: &str) -> String {
    format!("{SHOP}{BELTS}\n2025-05-01 heron\n  fit b-1 nose\n\n2025-05-01 plover\n  fit b-2 nose\n{rest}")
}

fn car<'a>(list: &'a DueView, name: &str) -> &'a CarView {
    list.plan.cars.iter().find(|car| car.car == name).unwrap()
}

#[test]
fn the_mean_of_the_cars_own_events() {
    let runs = [ran("heron", "e-1", "40 min"), ran("heron", "e-2", "60 min"), ran("plover", "e-2", "90 min")]
        .concat();
    let due = list(&book(&runs), "e-3", "2025-06-01");
    assert_eq!((car(&due, "heron").expected_s, car(&due, "heron").of_events), (Some(3000.0), 2));
    assert_eq!((car(&due, "plover").expected_s, car(&due, "plover").of_events), (Some(5400.0), 1));
    assert_eq!((row(&due, "b-1").now.as_str(), row(&due, "b-1").after.as_str()), ("100 min", "150 min"));
    assert_eq!((row(&due, "b-2").now.as_str(), row(&due, "b-2").after.as_str()), ("90 min", "180 min"));
    assert_eq!(car(&due, "heron").text, "50 min an event, the mean of its 2 events");
    assert_eq!(car(&due, "plover").text, "90 min an event, as at its one event so far");
}

/// A test day is use, and no event.
#[test]
fn what_it_ran_outside_events_is_no_event() {
    let test = on("2025-05-10", "heron", &["09:00 run t1  25 min"]);
    let due = list(&book(&(ran("heron", "e-1", "40 min") + &test)), "e-3", "2025-06-01");
    assert_eq!((row(&due, "b-1").now.as_str(), row(&due, "b-1").after.as_str()), ("65 min", "105 min"));
}

#[test]
fn two_events_ahead_are_twice_the_mean() {
    let runs = [ran("heron", "e-1", "40 min"), ran("heron", "e-2", "60 min")].concat();
    let due = list(&book(&runs), "e-4", "2025-06-01");
    assert_eq!(car(&due, "heron").events, ["e-3", "e-4"]);
    assert_eq!(car(&due, "heron").expected_s, Some(6000.0));
    assert_eq!(row(&due, "b-1").after, "200 min");
    // Only those it is entered for.
    let named = book(&runs).replace("at pell \"three\"", "at pell \"three\"  entered plover");
    let due = list(&named, "e-4", "2025-06-01");
    assert_eq!(car(&due, "heron").events, ["e-4"]);
    assert_eq!(row(&due, "b-1").after, "150 min");
}

/// Saturday evening of e-3: 20 of its 50 min are run; what is left of it and all of e-4 are to come.
#[test]
fn an_event_that_has_begun_counts_for_what_is_left_of_it() {
    let runs = [ran("heron", "e-1", "40 min"), ran("heron", "e-2", "60 min"), ran("heron", "e-3", "20 min")]
        .concat();
    let due = list(&book(&runs), "e-4", "2025-06-07");
    assert_eq!(car(&due, "heron").events, ["e-3", "e-4"]);
    assert_eq!((car(&due, "heron").of_events, car(&due, "heron").expected_s), (2, Some(80.0 * 60.0)));
    assert_eq!((row(&due, "b-1").now.as_str(), row(&due, "b-1").after.as_str()), ("120 min", "200 min"));
    // It has run more than it does as a rule: nothing is to come of that one.
    let long = [ran("heron", "e-1", "40 min"), ran("heron", "e-3", "70 min")].concat();
    assert_eq!(car(&list(&book(&long), "e-4", "2025-06-07"), "heron").expected_s, Some(40.0 * 60.0));
}

/// Sunday evening: it is over, though it is still its last day.
#[test]
fn an_event_is_over_when_its_last_day_was_run() {
    let sunday = "\n2025-06-08 heron at e-3\n  09:00 run s2  30 min\n";
    let runs = [ran("heron", "e-1", "40 min"), ran("heron", "e-3", "20 min"), sunday.to_owned()].concat();
    let due = list(&book(&runs), "e-4", "2025-06-08");
    assert_eq!(car(&due, "heron").events, ["e-4"]);
    assert_eq!((car(&due, "heron").of_events, car(&due, "heron").expected_s), (2, Some(45.0 * 60.0)));
}

#[test]
fn events_that_name_nobody_are_for_all_and_others_for_whom_they_name() {
    let names = |due: &DueView| due.plan.cars.iter().map(|car| car.car.clone()).collect::<Vec<_>>();
    assert_eq!(names(&list(&book(""), "e-3", "2025-06-01")), ["heron", "plover"]);
    let named = book("").replace("at pell \"three\"", "at pell \"three\"  entered plover");
    let due = list(&named, "e-3", "2025-06-01");
    assert_eq!(names(&due), ["plover"]);
    assert!(due.rows.iter().all(|row| row.car == "plover"), "{:#?}", due.rows);
}

#[test]
fn a_sold_car_goes_nowhere() {
    let sold = on("2025-05-25", "plover", &["sell plover"]);
    let due = list(&book(&sold), "e-3", "2025-06-01");
    assert_eq!(due.plan.cars.len(), 1);
    assert!(due.rows.iter().all(|row| row.part != "b-2"));
    // Before the sale it did.
    assert_eq!(list(&book(&sold), "e-2", "2025-06-01").plan.cars.len(), 2);
}

/// Nothing is known of what it will run: its belt is watched and said to be of unknown prospects, not left alone.
#[test]
fn a_car_without_events_has_no_expectation() {
    let due = list(&book(""), "e-3", "2025-06-01");
    assert_eq!((car(&due, "heron").expected_s, car(&due, "heron").of_events), (None, 0));
    let belt = row(&due, "b-1");
    assert_eq!((belt.now.as_str(), belt.after.as_str()), ("0 min", ""));
    assert_eq!(belt.action, stringline::due::row::Action::Watch);
    assert_eq!(belt.why, ["what the car will run is not known; 300 min are left of its limit of 300 min"]);
}

/// One of its events does not say its minutes: neither is their mean known.
#[test]
fn an_event_that_does_not_say_leaves_the_mean_unknown() {
    let runs = [ran("heron", "e-1", "40 min"), ran("heron", "e-2", "12 laps")].concat();
    let due = list(&book(&runs), "e-3", "2025-06-01");
    assert_eq!((car(&due, "heron").expected_s, car(&due, "heron").of_events), (None, 2));
    assert_eq!(row(&due, "b-1").now, "at least 40 min");
    assert!(car(&due, "heron").text.starts_with("not known: of its 2 events"), "{}", car(&due, "heron").text);
}

/// On the first day of an event, its first session run, the list is as of now: 40 of 300 min, not 0; and on its last day too. Once it is over
/// it is asked about as of its start.
#[test]
fn an_event_under_way_is_told_as_of_now() {
    let text = book(&ran("heron", "e-1", "40 min"));
    let first = text.lines().rfind(|line| line.ends_with("heron at e-1")).unwrap()[..10].to_owned();
    let day: jiff::civil::Date = first.parse().unwrap();
    for (on, now) in [
        (day, "40 min"),
        (day.tomorrow().unwrap(), "40 min"),
        (day.tomorrow().unwrap().tomorrow().unwrap(), "0 min"),
    ] {
        let due = list(&text, "e-1", &on.to_string());
        let over = now == "0 min";
        assert_eq!(row(&due, "b-1").now.as_str(), now, "{on} {over}");
        assert_eq!(due.plan.on == on.to_string(), !over, "{on}");
    }
}

/// Of an event that is not over nobody can take the mean; that is said, and not that it ran none.
#[test]
fn an_event_that_is_not_over_is_named() {
    let text = book(&ran("heron", "e-1", "40 min"));
    let first = text.lines().rfind(|line| line.ends_with("heron at e-1")).unwrap()[..10].to_owned();
    let due = list(&text, "e-3", &first);
    assert!(
        car(&due, "heron").text.contains("e-1, the one event it ran at, is not over"),
        "{}",
        car(&due, "heron").text
    );
}
