//! Dates as people write them, and what messages say alike.
//!
//! Must not know the book.

use crate::answer::dates::month;
pub(super) use crate::answer::dates::{date, short};
pub(super) use crate::words::{amount, and, clock, count, days, lap, place};
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
