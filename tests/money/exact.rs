//! Sums as typed, sums added, and the one rounding.

use super::{amount, eur, number};
use proptest::prelude::*;
use rust_decimal::Decimal;
use stringline::money::{Amount, Currency, Minutes, Slip, Total, amount::decimal, round};

#[test]
fn what_is_a_sum_and_what_is_none() {
    assert_eq!(Amount::read("-38.00", eur()), Err(Slip::Negative));
    assert_eq!(Amount::read("\u{2212}38.00", eur()), Err(Slip::Negative));
    assert_eq!(Amount::read("38.005", eur()), Err(Slip::TooFine(eur())));
    let yen = Currency::find("JPY").unwrap();
    assert_eq!(Amount::read("38.5", yen), Err(Slip::TooFine(yen)));
    for text in [
        "",
        "-",
        "1/2",
        "38,00",
        "1e3",
        "1_000",
        "26psi",
        "99999999999999999999999999999999",
        "1000000000000",
    ] {
        assert_eq!(Amount::read(text, eur()), Err(Slip::Number), "{text}");
    }
    assert_eq!(Amount::read("999999999999.99", eur()).unwrap().minor(), Some(99_999_999_999_999));
    assert_eq!(Amount::read("-0.00", eur()).unwrap().digits(), "0.00");
}

/// Tenths and hundredths have no exact binary fraction; ten of 0.10 are 1.00, and 0.1 + 0.2 is 0.3.
#[test]
fn sums_are_exact() {
    let mut total = Total::default();
    for _ in 0..10 {
        total.add(amount("0.10 EUR"));
    }
    assert_eq!(total.of(eur()).to_string(), "1.00 EUR");
    assert_eq!(amount("0.1 EUR").plus(amount("0.2 EUR")).unwrap().value, number("0.3"));
}

#[test]
fn currencies_do_not_mix() {
    assert_eq!(amount("1.00 EUR").plus(amount("1.00 GBP")), None);
    let mut total = Total::default();
    for one in ["1.00 GBP", "2.00 EUR", "3.00 GBP"] {
        total.add(amount(one));
    }
    let sums: Vec<String> = total.sums().iter().map(ToString::to_string).collect();
    assert_eq!(sums, ["2.00 EUR", "4.00 GBP"]);
}

/// Half away from zero. The first rows are ties; the last are quotients whose first 28 digits end in a tie or beside one, where
/// rounding twice would go wrong. Expected: Python 3 `fractions` and `decimal` (`ROUND_HALF_UP`).
#[test]
fn half_goes_away_from_zero_and_once() {
    for (value, by, decimals, want) in [
        ("0.125", "1", 2, "0.13"),
        ("0.135", "1", 2, "0.14"),
        ("-0.125", "1", 2, "-0.13"),
        ("2.5", "1", 0, "3"),
        ("-2.5", "1", 0, "-3"),
        ("1", "3", 2, "0.33"),
        ("2", "3", 2, "0.67"),
        ("-2", "3", 2, "-0.67"),
        ("2943.90", "2.65", 2, "1110.91"),
        ("25515.50", "39.1333333333333333333333333", 2, "652.01"),
        ("0.0449999999999999999999999999", "10", 2, "0.00"),
        ("0.0500000000000000000000000000", "10", 2, "0.01"),
        ("1", "8", 2, "0.13"),
        ("7", "0.0001", 0, "70000"),
    ] {
        assert_eq!(
            round::quotient(number(value), number(by), decimals).unwrap().to_string(),
            want,
            "{value} / {by}"
        );
    }
    assert_eq!(round::quotient(Decimal::ONE, Decimal::ZERO, 2), None);
    assert_eq!(round::to(number("-0.125"), 2).to_string(), "-0.13");
    assert_eq!(round::to(number("7"), 2).to_string(), "7.00");
}

/// Labour is exact time at a rate, rounded at its line: 50 minutes at 58.00 are 48.33 1/3.
#[test]
fn labour() {
    let cost =
        |time: &str, hours: bool, rate: &str| Minutes::read(time, hours).unwrap().at(amount(rate)).unwrap();
    assert_eq!(cost("50", false, "58.00 EUR").to_string(), "48.33 EUR");
    assert_eq!(cost("2.25", true, "58.00 EUR").to_string(), "130.50 EUR");
    assert_eq!(cost("2 1/4", true, "58.00 EUR").to_string(), "130.50 EUR");
    assert_eq!(cost("3/4", true, "58.00 EUR").to_string(), "43.50 EUR");
    assert_eq!(Minutes::read("1/3", true), Err(Slip::Number));
    assert_eq!(cost("21.5", true, "58.00 EUR").to_string(), "1247.00 EUR");
    assert_eq!(cost("10", false, "4000 JPY").to_string(), "667 JPY");
    assert_eq!(Minutes::read("-1", true), Err(Slip::Negative));
    assert_eq!(Minutes::read("9999", true), Err(Slip::Number));
    let hours = |time: &str, hours: bool| Minutes::read(time, hours).unwrap().hours();
    assert_eq!([hours("50", false), hours("2.25", true), hours("63", true)], ["0.83", "2.25", "63.0"]);
}

proptest! {
    /// Reading never panics, and what is read can be added a million times without loss.
    #[test]
    fn any_text_is_a_sum_or_a_slip(text in "[-+0-9.\u{2212}]{0,40}|\\PC{0,20}") {
        if let Ok(value) = decimal(&text) {
            prop_assert!(value.abs() < Decimal::from(1_000_000_000_000_u64));
        }
        if let Ok(sum) = Amount::read(&text, eur()) {
            prop_assert!(sum.minor().is_some());
            prop_assert_eq!(Amount::of_minor(sum.minor().unwrap(), eur()).unwrap().value, sum.value);
        }
    }

    /// The rounded quotient is within half a unit of the exact one: |q * by - value| * 2 <= |by| in units of the last decimal.
    #[test]
    fn a_quotient_is_the_nearest(value in -1_000_000_000_i64..1_000_000_000, by in 1_i64..1_000_000, decimals in 0_u32..4) {
        let got = round::quotient(Decimal::new(value, 2), Decimal::new(by, 1), decimals).unwrap();
        let unit = 10_i128.pow(decimals);
        // value/100 * unit against got_units * by/10, both times 100.
        let exact = i128::from(value) * unit;
        let back = got.mantissa() * i128::from(by) * 10;
        prop_assert!((exact - back).abs() * 2 <= i128::from(by) * 10);
        prop_assert_eq!(got.scale(), decimals);
    }
}
