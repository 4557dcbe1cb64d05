//! rules: a car by its class's rules of a day, by another's, and what is good until when.

use super::{holds, said};

/// Two rules one after the other, a local one, every verdict, every standing of a dated item.
const BOOK: &str = "tests/fixtures/command/ruled";

#[test]
fn a_car_by_the_rules_of_a_day() {
    holds("rules", &["rules", BOOK, "heron"]);
    holds("rules-at", &["rules", BOOK, "heron", "pell-1"]);
    holds("rules-date", &["rules", BOOK, "heron", "2025-05-04"]);
    holds("rules-class", &["rules", BOOK, "heron", "--class", "s-2"]);
}

#[test]
fn what_is_not_there() {
    holds("rules-no-class", &["rules", BOOK, "heron", "--class", "S-11"]);
    holds("rules-no-car", &["rules", BOOK, "herron"]);
    assert_eq!(said(&["rules"]).code, "2");
}

/// Now is the clock's, and each says so; `--at` moves it, and what was typed for later days is not in the book then.
#[test]
fn now_is_the_clocks_or_the_day_asked_for() {
    let first = |words: &[&str]| super::said(words).out.lines().take(2).collect::<Vec<_>>().join("; ");
    let ruled = "tests/fixtures/command/ruled";
    assert!(first(&["rules", ruled, "heron"]).contains("by the rules of 2025-06-20, today by the clock"));
    let then = super::said(&["rules", ruled, "heron", "--at", "2025-05-31"]);
    assert!(then.out.contains("by the rules of 2025-05-31, the day asked for"), "{}", then.out);
    assert!(!then.out.contains("2025-06-10"), "a reading of a later day: {}", then.out);
    let both = super::said(&["rules", ruled, "heron", "2025-05-31", "--at", "2025-05-31"]);
    assert_eq!((both.code.as_str(), both.out.as_str()), ("2", ""));
    let none = super::said(&["due", ruled, "--at", "soon"]);
    assert!(none.err.contains("`soon` is no day"), "{}", none.err);
}

/// A rule that comes into force before an event still to come is judged for it, as on the card for its scrutineers.
#[test]
fn an_event_ahead_is_judged_by_the_rules_of_its_days() {
    let book = "rule clearance class sr-2  ride-height min 55 mm from 2027-01-01\ncircuit k \"K\"\nevent e-27 2027-04-17..2027-04-18 at k  entered heron\n\
                car heron \"H\" class sr-2\n\n2026-05-10 heron\n  read ride-height 51 51 57 57 mm\n";
    let home = tempfile::tempdir().unwrap();
    std::fs::write(home.path().join("a.sline"), book).unwrap();
    let at = home.path().to_str().unwrap();
    for (moment, says) in [
        ("e-27", "by the rules of 2027-04-17 to 2027-04-18, its days"),
        ("e-27/start", "by the rules of 2027-04-17, its first day"),
        ("E-27/END", "by the rules of 2027-04-18, its last day"),
    ] {
        let out = super::said(&["rules", at, "heron", moment]).out;
        assert!(out.contains(says) && out.contains("FAILS"), "{moment}: {out}");
    }
    assert!(!super::said(&["rules", at, "heron", "2026-05-10"]).out.contains("FAILS"));
}

#[test]
fn what_is_due_is_as_of_the_clock_or_the_day_asked_for() {
    let of = |at: &[&str]| super::said(&[&["due", super::BOOK, "--before", "pell-2"], at].concat()).out;
    let first = |text: &str| text.lines().next().unwrap_or_default().to_owned();
    assert!(
        first(&of(&["--at", "2025-06-01"])).contains("as on 2025-06-01, the day asked for"),
        "{}",
        of(&["--at", "2025-06-01"])
    );
    assert!(
        first(&of(&[])).contains("its first day") || first(&of(&[])).contains("today by the clock"),
        "{}",
        of(&[])
    );
}

/// Pages stand at the book's last line and say so; asked for another day, at that day.
#[test]
fn pages_stand_at_the_last_line_or_the_day_asked_for() {
    let page = |at: &[&str]| super::said(&[&["sheet", super::BOOK, "heron", "--now"], at].concat()).out;
    assert!(page(&[]).contains("last line, whatever the day it is read."));
    assert!(page(&["--at", "2026-01-31"]).contains("It stands at 31 January 2026, the day asked for."));
    // The clock changes no byte of a page.
    let later = super::said_on(&["sheet", super::BOOK, "heron", "--now"], 96, "2027-06-20T12:00:00Z").out;
    assert_eq!(page(&[]), later);
}
