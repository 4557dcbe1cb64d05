//! Clock times and offsets as typed: what is one, and that nothing else passes.
//!
//! A time is one or two digits, a colon, two digits; an offset is a sign and the `hh:mm` of ISO 8601-1:2019, 4.3.13 and 5.3.4.1.

use crate::checks::compile_text;
use jiff::civil::Date;
use proptest::prelude::*;
use stringline::book::dates::{clock, date, dates, offset};
use stringline::history::time::Zone;

fn digits(text: &str, most: usize) -> Option<i16> {
    let good = (1..=most).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
    good.then(|| text.bytes().fold(0, |sum, byte| sum * 10 + i16::from(byte - b'0')))
}

/// Minutes of a face by the rule above.
fn face(text: &str) -> Option<i16> {
    let (hour, minute) = text.split_once(':')?;
    let (hour, minute) = (digits(hour, 2)?, digits(minute, 2).filter(|_| minute.len() == 2)?);
    (hour < 24 && minute < 60 || (hour, minute) == (24, 0)).then_some(hour * 60 + minute)
}

/// Text of what times are made of, and of anything.
fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[-+\u{2212}]{0,2}[-+0-9]{0,3}:[-+0-9]{0,3}",
        "[-+\u{2212}]?[0-9]{2}:[0-9]{2}",
        "[0-9]{1,2}:[0-9]{2}\\.\\.[0-9]{1,2}:[0-9]{2}",
        "[-+\u{2212}]?[0-9]{1,9}:[0-9]{1,9}",
        ".*",
    ]
}

proptest! {
    #[test]
    fn only_a_well_formed_offset_is_one(text in text()) {
        let body = text.strip_prefix(['+', '-', '\u{2212}']);
        let ahead = body.filter(|body| body.len() == 5).and_then(|body| {
            let (hours, minutes) = body.split_once(':')?;
            let (hours, minutes) = (digits(hours, 2)?, digits(minutes, 2)?);
            (hours <= 18 && minutes < 60).then_some(hours * 60 + minutes)
        });
        let ahead = ahead.map(|ahead| if text.starts_with('+') { ahead } else { -ahead });
        prop_assert_eq!(offset(&text), ahead);
    }

    #[test]
    fn only_a_well_formed_time_is_one(text in text()) {
        let wanted = match text.split_once("..") {
            Some((from, to)) => face(from).zip(face(to)),
            None => face(&text).map(|from| (from, -1)),
        };
        prop_assert_eq!(clock(&text), wanted);
    }
}

#[test]
fn what_is_no_time_is_said_at_its_line() {
    for times in [
        "09:00 +999:00",
        "09:00 +-5:00",
        "09:00 +01:+5",
        "09:00 +32767:00..10:00",
        "09:00 +01:00..09:+5",
        "09:00 +01:00..-1:30",
        "09:00 +1:0",
    ] {
        let book = compile_text(&format!("car heron \"Heron\"\n2026-06-10 heron\n  {times} run s1\n"));
        let said: Vec<&str> = book.diagnostics.iter().map(|one| one.check).collect();
        assert_eq!(said, ["clock-impossible"], "{times}");
    }
}

/// A date is four digits, two and two (ISO 8601-1:2019, 5.2.2.1), of a day that there is; nothing may follow it.
#[test]
fn only_a_well_formed_date_is_one() {
    let good = |text: &str| date(text).map(|day| (day.year(), day.month(), day.day())).ok();
    assert_eq!(good("2026-04-18"), Some((2026, 4, 18)));
    assert_eq!(good("9999-12-31"), Some((9999, 12, 31)));
    for bad in [
        "+026-04-18",
        "2026-+4-18",
        "2026-04-+8",
        "2026-04-18x",
        "2026-04-181",
        "2026/04/18",
        "2026-04-18..19",
        "-999-04-18",
        "2026-02-29",
    ] {
        assert_eq!(good(bad), None, "{bad}");
    }
    let range = |text: &str| dates(text).map(|(first, last)| (first.to_string(), last.to_string())).ok();
    assert_eq!(range("2026-04-18..9"), None);
    assert_eq!(range("2026-04-18..19").unwrap().1, "2026-04-19");
    assert_eq!(range("2026-12-30..2027-01-02").unwrap().1, "2027-01-02");
    for bad in
        ["2026-04-18..+19", "2026-04-18..05-+2", "2026-04-18..2026-5-1", "2026-04-18..128", "2026-04-18..-1"]
    {
        assert_eq!(range(bad), None, "{bad}");
    }
}

/// In every zone the days at the ends are in order, and those beyond what instants hold are no earlier day.
#[test]
fn no_year_is_another_day() {
    for zone in ["UTC", "Pacific/Kiritimati", "Pacific/Pago_Pago", "America/St_Johns"] {
        let mut zone = Zone::new(Some(zone));
        let days = ["-9999-01-01", "0001-01-01", "1899-12-31", "1970-01-01", "2999-12-31", "6053-01-22"];
        let far = ["6053-06-01", "9999-12-30", "9999-12-31"];
        let all = days.iter().chain(&far).map(|day| match day.strip_prefix('-') {
            Some(_) => Date::MIN,
            None => day.parse().unwrap(),
        });
        let starts: Vec<i32> = all.clone().map(|day| zone.day_start(day)).collect();
        assert!(starts.is_sorted() && starts[5] < i32::MAX, "{starts:?}");
        assert_eq!(starts[6..], [i32::MAX; 3]);
        for day in all {
            for clock in [0, 720, 1440] {
                // Whatever it is, it is no panic.
                let _ =
                    (zone.face(day, clock, None), zone.face(day, clock, Some(60)), zone.offsets(day, clock));
                let _ =
                    (zone.skipped(day, clock), zone.date_near(day, i32::MAX), zone.date_near(day, i32::MIN));
            }
        }
    }
}

#[test]
fn a_head_of_a_year_that_no_block_is_of_is_said() {
    for (year, said) in [
        ("0000", &["date-impossible"][..]),
        ("1899", &["date-impossible"]),
        ("1900", &[]),
        ("2999", &["event-in-future"]),
        ("3000", &["date-impossible"]),
        ("6054", &["date-impossible"]),
        ("9999", &["date-impossible"]),
    ] {
        let book = compile_text(&format!(
            "car heron \"Heron\"\n{year}-12-31 heron\n  23:00..01:00 run s1\n  24:00 think \"a\"\n"
        ));
        let all: Vec<&str> = book.diagnostics.iter().map(|one| one.check).collect();
        assert_eq!(all, said, "{year}");
    }
    let book = compile_text("car heron \"Heron\"\n9999-12-31 heron\n  think \"a\"\n");
    assert_eq!(book.diagnostics[0].message, "No block is of 9999-12-31: years run from 1900 to 2999.");
}
