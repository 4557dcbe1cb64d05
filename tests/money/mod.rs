//! Money: currencies, exact sums, rounding, sharing out; and what a book's lines cost.

mod booking;
mod currencies;
mod exact;
mod lost;
mod mistaken;
mod no_floats;
mod owed;
mod payers;
mod sharing;

use rust_decimal::Decimal;
use stringline::money::{Amount, Currency};

pub fn eur() -> Currency {
    Currency::find("EUR").unwrap()
}

pub fn number(text: &str) -> Decimal {
    text.parse().unwrap()
}

pub fn amount(text: &str) -> Amount {
    let (number_, code) = text.split_once(' ').unwrap();
    Amount { value: number(number_), currency: Currency::find(code).unwrap() }
}
