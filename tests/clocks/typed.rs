//! Clock times and offsets as typed: what is one, and that nothing else passes.
//!
//! A time is one or two digits, a colon, two digits; an offset is a sign and the `hh:mm` of ISO 8601-1:2019, 4.3.13 and 5.3.4.1.

use crate::checks::compile_text;
use proptest::prelude::*;
use stringline::book::dates::{clock, offset};

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
