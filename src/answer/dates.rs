//! Dates as people write them, the same on the terminal and on pages.
//!
//! Must not know the book.

use jiff::civil::Date;

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// The month's name.
pub(crate) fn month(date: Date) -> &'static str {
    MONTHS.get((date.month() - 1) as usize).copied().unwrap_or("?")
}

/// "18 April 2026".
#[must_use]
pub fn date(date: Date) -> String {
    format!("{} {} {}", date.day(), month(date), date.year())
}

/// "18 Apr".
#[must_use]
pub fn short(date: Date) -> String {
    format!("{} {}", date.day(), month(date).get(..3).unwrap_or("?"))
}
