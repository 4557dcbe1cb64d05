//! What a cell says, by the way it is read. Numbers made here are the expectation; days are held against jiff's `strptime`.

use jiff::civil::Date;
use proptest::prelude::*;
use stringline::transcribe::cell::{Numbers, Order, day, lap, number, time};

const POINT: Numbers = Numbers { decimal: '.', hundredths: false };
const COMMA: Numbers = Numbers { decimal: ',', hundredths: false };
const HUNDREDTHS: Numbers = Numbers { decimal: '.', hundredths: true };

fn digits(cell: &str, way: Numbers) -> Option<String> {
    number(cell, way).map(|(digits, _)| digits)
}

#[test]
fn numbers() {
    for (cell, point, comma) in [
        ("26.5", Some("26.5"), None),
        ("26,5", None, Some("26.5")),
        ("26,50", None, Some("26.50")),
        ("1,500", Some("1500"), Some("1.500")),
        ("1.500", Some("1.500"), Some("1500")),
        ("1,500.25", Some("1500.25"), None),
        ("1.500,25", None, Some("1500.25")),
        ("1 500,25", None, Some("1500.25")),
        ("1'500.25", Some("1500.25"), None),
        ("0,850", None, Some("0.850")),
        ("12,34,567", None, None),
        ("1,500,00", None, None),
        (".5", Some("0.5"), None),
        ("5.", None, None),
        ("-3", Some("-3"), Some("-3")),
        ("\u{2212}3.2", Some("-3.2"), None),
        ("+4", Some("4"), Some("4")),
        ("--4", None, None),
        ("5 3/16", Some("5 3/16"), Some("5 3/16")),
        ("-2d45'", Some("-2d45'"), Some("-2d45'")),
        ("\u{2212}2°5′", Some("-2d05'"), Some("-2d05'")),
        ("2d60'", None, None),
        ("1.2E+03", None, None),
        ("1:08", None, None),
        ("DNF", None, None),
        ("", None, None),
        ("0x10", None, None),
        ("1_000", None, None),
        ("\u{665}", None, None),
    ] {
        assert_eq!(
            (digits(cell, POINT).as_deref(), digits(cell, COMMA).as_deref()),
            (point, comma),
            "{cell}"
        );
    }
    assert_eq!(number("26.5 psi", POINT), Some(("26.5".to_owned(), Some("psi"))));
    assert_eq!(number("14\u{B0}C", POINT), Some(("14".to_owned(), Some("\u{B0}C"))));
}

#[test]
fn laps() {
    for (cell, way, wanted) in [
        ("1:08.42", POINT, Some("1:08.42")),
        ("1:08,42", COMMA, Some("1:08.42")),
        ("1:08,42", POINT, None),
        ("01:08.420", POINT, Some("1:08.420")),
        ("00:01:08.42", POINT, Some("1:08.42")),
        ("00:01:08.42", HUNDREDTHS, Some("1:08.42")),
        ("1:02:08.4", POINT, Some("62:08.4")),
        ("1:08:42", POINT, Some("68:42")),
        ("1:08:42", HUNDREDTHS, Some("1:08.42")),
        ("1'08\"42", POINT, Some("1:08.42")),
        ("1'08.42\"", POINT, Some("1:08.42")),
        ("68.42", POINT, Some("68.42")),
        ("68.42 s", POINT, Some("68.42")),
        ("1:78.2", POINT, None),
        ("0.000791898", POINT, None),
        ("DNF", POINT, None),
        ("-1:08.4", POINT, None),
        ("1:8.4", POINT, Some("1:08.4")),
    ] {
        assert_eq!(lap(cell, way).as_deref(), wanted, "{cell}");
    }
}

#[test]
fn times_and_days() {
    for (cell, wanted) in [
        ("9:30", Some(570)),
        ("09:30:59.2", Some(570)),
        ("9:30 pm", Some(1290)),
        ("12:05 AM", Some(5)),
        ("12:05 pm", Some(725)),
        ("24:00", None),
        ("13:00 pm", None),
        ("9.30", None),
        ("09:60", None),
    ] {
        assert_eq!(time(cell), wanted, "{cell}");
    }
    let date = |text: &str| text.parse::<Date>().unwrap();
    for (cell, order, wanted) in [
        ("2026-05-10", Order::YearMonthDay, Some("2026-05-10")),
        ("2026-05-10", Order::DayMonthYear, None),
        ("10/05/2026", Order::DayMonthYear, Some("2026-05-10")),
        ("10/05/2026", Order::MonthDayYear, Some("2026-10-05")),
        ("10.5.26", Order::DayMonthYear, Some("2026-05-10")),
        ("10.5.69", Order::DayMonthYear, Some("1969-05-10")),
        ("10 May 2026", Order::MonthDayYear, Some("2026-05-10")),
        ("May 10, 2026", Order::DayMonthYear, Some("2026-05-10")),
        ("10-MAY-26", Order::YearMonthDay, Some("2026-05-10")),
        ("30/02/2026", Order::DayMonthYear, None),
        ("46152", Order::DayMonthYear, None),
    ] {
        assert_eq!(day(cell, order).map(|(date, _)| date), wanted.map(date), "{cell}");
    }
    assert_eq!(day("2026-05-10T09:30:00", Order::YearMonthDay), Some((date("2026-05-10"), Some(570))));
    assert_eq!(day("10/05/2026 9:30 pm", Order::DayMonthYear), Some((date("2026-05-10"), Some(1290))));
    assert_eq!(day("10 May 2026 09:30", Order::DayMonthYear), Some((date("2026-05-10"), Some(570))));
}

proptest! {
    #[test]
    fn a_day_reads_back_as_jiff_has_it(year in 1900_i16..3000, month in 1_i8..13, number in 1_i8..32) {
        let Ok(made) = Date::new(year, month, number) else { return Ok(()) };
        for (format, order) in [
            ("%Y-%m-%d", Order::YearMonthDay),
            ("%d/%m/%Y", Order::DayMonthYear),
            ("%d.%m.%Y", Order::DayMonthYear),
            ("%m/%d/%Y", Order::MonthDayYear),
            ("%d %B %Y", Order::YearMonthDay),
            ("%b %d, %Y", Order::YearMonthDay),
        ] {
            let text = made.strftime(format).to_string();
            prop_assert_eq!(Date::strptime(format, &text).ok(), Some(made));
            prop_assert_eq!(day(&text, order), Some((made, None)), "{}", text);
        }
    }

    /// Of a text that no one wrote for us nothing is read but digits, and no way panics.
    #[test]
    fn any_text(cell in "[0-9.,:'\" /\\-+TapmMay\u{2212}\u{A0}\u{B0}\\PC]{0,14}") {
        for way in Numbers::WAYS {
            for read in [digits(&cell, way), lap(&cell, way)].into_iter().flatten() {
                prop_assert!(read.chars().all(|c| c.is_ascii_digit() || " -./:".contains(c)), "{} -> {}", cell, read);
                prop_assert!(read.chars().any(|c| c.is_ascii_digit()));
            }
        }
        for order in Order::WAYS {
            let _ = day(&cell, order);
        }
        let _ = time(&cell);
    }
}
