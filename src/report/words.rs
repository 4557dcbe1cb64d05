//! Dates, times and counts as people write them.
//!
//! Must not know the book.

use crate::answer::dates::month;
pub(super) use crate::answer::dates::{date, short};
use crate::units::number;
use jiff::civil::Date;

/// What stands for a missing value.
pub(super) const DASH: &str = "–";

/// "18–19 April 2026", "30 May – 2 June 2026".
pub(super) fn dates(first: Date, last: Date) -> String {
    if first == last {
        date(first)
    } else if (first.year(), first.month()) == (last.year(), last.month()) {
        format!("{}–{} {} {}", first.day(), last.day(), month(last), last.year())
    } else if first.year() == last.year() {
        format!("{} {} – {}", first.day(), month(first), date(last))
    } else {
        format!("{} – {}", date(first), date(last))
    }
}

/// "1:08.42" of seconds with that many decimals; "0:41.40" below a minute.
pub(super) fn lap(seconds: f64, decimals: u8) -> String {
    let unit = libm::pow(10.0, f64::from(decimals));
    let ticks = libm::round(seconds * unit) / unit;
    let minutes = libm::floor(ticks / 60.0);
    let rest = number::format(ticks - minutes * 60.0, decimals);
    let pad = if rest.find('.').unwrap_or(rest.len()) < 2 { "0" } else { "" };
    format!("{minutes:.0}:{pad}{rest}")
}

/// A count or amount that need not be whole: as few decimals as it needs, at most `most`.
pub(super) fn amount(value: f64, most: u8) -> String {
    let text = number::format(value, most);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// "1 session", "28 sessions".
pub(super) fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// "a", "a and b", "a, b and c".
pub(super) fn list(all: &[String]) -> String {
    match all {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
