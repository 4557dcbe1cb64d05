//! What the lines of a block say of each other's day: a line within a night, a head with a time, and what the next block is told.

use crate::checks::compile_text;
use jiff::civil::{Date, date};
use stringline::Compiled;
use stringline::book::entry::{EntryId, Verb};
use stringline::history::order::Rank;

const HEAD: &str = "shop \"S\"  zone Europe/Dublin  currency EUR\ncar heron \"Heron\"\ncar plover \"Plover\"\n\
    kind coupling \"c\"  fits LR on heron\npart cp-1 coupling  opening new\n";

fn book(lines: &str) -> Compiled {
    compile_text(&format!("{HEAD}{lines}"))
}

fn said(book: &Compiled) -> Vec<&str> {
    book.diagnostics.iter().map(|one| one.check).collect()
}

/// The day and the local time of each line, in the order typed.
fn days(book: &Compiled) -> Vec<(Date, String)> {
    let zone = jiff::tz::TimeZone::get("Europe/Dublin").unwrap();
    let at = |entry: EntryId| {
        let stamp = jiff::Timestamp::from_second(i64::from(book.history.order.at[entry]) * 60).unwrap();
        zone.to_datetime(stamp).strftime("%H:%M").to_string()
    };
    book.book
        .entries
        .keys()
        .map(|entry| (book.history.order.date(&book.book, entry).unwrap(), at(entry)))
        .collect()
}

fn told(days: &[(i8, &str)]) -> Vec<(Date, String)> {
    days.iter().map(|(day, at)| (date(2026, 6, *day), (*at).to_owned())).collect()
}

#[test]
fn a_line_within_a_night_leaves_the_block_past_midnight() {
    let book =
        book("2026-06-10 heron\n  23:00..01:00 run s1\n  23:30 hit LF \"kerb\"\n  01:10 think \"a\"\n");
    assert_eq!(said(&book), Vec::<&str>::new());
    assert_eq!(days(&book), told(&[(10, "23:00"), (10, "23:30"), (11, "01:10")]));
}

/// Twelve hours are counted from the session's end.
#[test]
fn the_next_day_is_twelve_hours_from_the_end_of_the_night() {
    let after = |time: &str| {
        book(&format!(
            "2026-06-10 heron\n  23:00..01:00 run s1\n  23:30 hit LF \"kerb\"\n  {time} think \"a\"\n"
        ))
    };
    assert_eq!(said(&after("13:00")), Vec::<&str>::new());
    assert_eq!(said(&after("13:01")), ["times-backward"]);
}

/// What is told of a night's end to the block below is not undone by a line within the night.
#[test]
fn the_next_block_comes_after_the_night() {
    let book = book(
        "2026-06-10 heron\n  23:00..01:00 run s1\n  23:30 hit LF \"kerb\"\n2026-06-11 heron\n  think \"a\"\n",
    );
    assert_eq!(days(&book), told(&[(10, "23:00"), (10, "23:30"), (11, "01:00")]));
}

#[test]
fn a_time_before_its_heads_is_asked_about() {
    let early = book("2026-06-10 23:30 heron\n  00:10 think \"a\"\n  00:20 think \"b\"\n");
    assert_eq!(said(&early), ["times-backward"]);
    let [one] = early.diagnostics.as_slice() else { panic!() };
    assert_eq!(
        one.message,
        "00:10 is earlier than 23:30 of the head above it; the order of the lines is taken."
    );
    assert_eq!(days(&early), told(&[(10, "23:30"), (10, "23:30")]));
    let late =
        book("2026-06-10 23:30 heron\n  23:30 think \"a\"\n  23:40..00:10 run s1\n  00:20 think \"b\"\n");
    assert_eq!(said(&late), Vec::<&str>::new());
    let midnight = book("2026-06-10 24:00 heron\n  00:10 think \"a\"\n");
    assert_eq!(said(&midnight), Vec::<&str>::new());
    assert_eq!(days(&midnight), told(&[(11, "00:10")]));
}

/// In the hour that comes twice the minutes fit both: how long is known, and which it was is asked.
#[test]
fn minutes_that_fit_both_starts_leave_the_start_asked_about() {
    let book = book("2026-10-25 heron\n  01:10..01:40 run s1  30 min\n");
    assert_eq!(said(&book), ["clock-twice"]);
    assert_eq!(book.history.sessions.all.first().unwrap().minutes, Some(30.0));
    assert!(!book.history.order.decided[EntryId::from(0)]);
    assert!(
        book.diagnostics[0].message.ends_with("nothing says which it was."),
        "{}",
        book.diagnostics[0].message
    );
}

/// A line that is no session may have been within the one above: of two instants after that one's start neither is sure.
#[test]
fn a_double_time_below_a_session_may_be_within_it() {
    let book =
        book("2026-10-25 heron\n  00:40..01:30 +01:00 run s1\n  01:10 think \"a\"\n  01:10..01:20 run s2\n");
    assert_eq!(said(&book), ["clock-twice", "clock-twice"]);
    let alone = self::book("2026-10-25 heron\n  00:40..01:30 +01:00 run s1\n  01:10..01:20 run s2\n");
    assert_eq!(said(&alone), Vec::<&str>::new());
}

#[test]
fn two_files_on_one_real_day_are_unclear_past_midnight() {
    let night = "2026-06-10 heron\n  23:00..01:00 run s1\n  01:10 set camber LF -3 deg\n# === other.sline\n";
    let same = book(&format!("{night}2026-06-11 heron\n  set camber LF -2 deg\n"));
    assert_eq!(said(&same), ["day-order-unclear"]);
    let later = book(&format!("{night}2026-06-12 heron\n  set camber LF -2 deg\n"));
    assert_eq!(said(&later), Vec::<&str>::new());
}

/// Opened at 01:10 in the night of the 10th, done on the 11th in another file, with no time: it was opened first.
#[test]
fn a_job_opened_in_a_night_may_be_done_that_day() {
    let book = book(
        "2026-06-10 heron\n  23:00..01:00 run s1\n  01:10 job j-1 \"seal weeps\"\n# === other.sline\n\
         2026-06-11 heron\n  done j-1 \"lip worn\"\n",
    );
    assert_eq!(said(&book), Vec::<&str>::new());
    let days: Vec<Date> =
        book.history.jobs.all.iter().flat_map(|job| job.steps.iter().map(|step| step.date)).collect();
    assert_eq!(days, [date(2026, 6, 11); 2]);
}

/// A failure at 01:10 is of the real day, in lives and in what failures cost, and so is the bill of 01:20.
#[test]
fn a_nights_failure_and_its_bill_are_of_their_day() {
    let book = book(
        "2026-06-01 heron\n  fit cp-1 LR\n2026-06-10 heron\n  23:00..01:00 run s1\n  01:10 failed cp-1 mode split\n  \
         01:20 cost 40 EUR other \"tow\"\n",
    );
    let lives = stringline::lives::lives(&book.book, &book.history, Rank::END);
    assert_eq!(
        lives.all[stringline::lives::LifeId::new(0)].ended,
        Some(date(2026, 6, 11)),
        "{:?}",
        said(&book)
    );
    let failures: Vec<Date> = book.costs.failures.iter().map(|one| one.date).collect();
    assert_eq!(failures, [date(2026, 6, 11)]);
    let cost = |entry: EntryId| book.book.entries[entry].verb == Verb::Cost;
    let bills: Vec<Date> =
        book.costs.postings.iter().filter(|one| cost(one.entry)).map(|one| one.date).collect();
    assert_eq!(bills, [date(2026, 6, 11)]);
}

/// Months count from the day the work was done on.
#[test]
fn months_count_from_the_day_of_the_line() {
    let book = compile_text(
        "car heron \"Heron\"\n  every 6 months fill brake-fluid\nkind belts \"b\"  fits cockpit on heron  valid 12 months from fitted\n\
         part hb-1 belts  opening new\n2026-06-10 heron\n  23:00..01:00 run s1\n  01:10 fill brake-fluid DOT4 0.5 L\n  01:20 fit hb-1\n",
    );
    let end = stringline::history::moment::end(&book.history).rank;
    let all = stringline::history::intervals::intervals(&book.book, &book.history, end, date(2026, 6, 20));
    let due: Vec<Option<Date>> = all.iter().map(|one| one.due_on).collect();
    assert_eq!(due, [Some(date(2026, 12, 11))], "{:?}", said(&book));
    let dated = stringline::history::dated::dated(&book.book, &book.history, end);
    let from: Vec<Option<Date>> = dated
        .iter()
        .map(|one| match one.basis {
            Some(stringline::history::dated::Basis::Counted { from, .. }) => Some(from.last_day()),
            _ => None,
        })
        .collect();
    assert_eq!(from, [Some(date(2026, 6, 11))]);
}
