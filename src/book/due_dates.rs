//! Civil dates of items that are good for so long: dates as a label has them (a day, a month, a year), and the last good
//! day some months later.
//!
//! Policy, the same everywhere: the last good day of `5 years from` a day is that day five years on, and it is good all
//! that day. A day that the month does not have becomes the month's last (29 February and 1 year is 28 February, 31 January
//! and 1 month is 28 or 29 February). A label that names a month runs to the end of the month, one that names a year to the
//! end of the year, before and after the months are added.
//!
//! Pure arithmetic on the Gregorian calendar. Must not know parts, books or today.

use super::dates::{DateTrouble, date};
use jiff::civil::Date;

/// A date as it stands on a label.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stated {
    /// `2021-07-15`.
    Day(Date),
    /// `2021-07`: year and month.
    Month(i16, i8),
    /// `2021`.
    Year(i16),
}

impl Stated {
    /// Reads `2021-07-15`, `2021-07` or `2021`.
    ///
    /// # Errors
    /// When there is no such day, month or year.
    pub fn parse(text: &str) -> Result<Self, DateTrouble> {
        let bad = DateTrouble::Impossible(None);
        let year = |text: &str| {
            let digits = text.len() == 4 && text.bytes().all(|byte| byte.is_ascii_digit());
            digits.then(|| text.parse::<i16>().ok()).flatten().filter(|year| *year > 0).ok_or(bad)
        };
        match text.split_once('-') {
            None => Ok(Self::Year(year(text)?)),
            Some((first, month)) if !month.contains('-') => {
                let digits = month.len() == 2 && month.bytes().all(|byte| byte.is_ascii_digit());
                let month = digits.then(|| month.parse::<i8>().ok()).flatten();
                let month = month.filter(|month| (1..=12).contains(month)).ok_or(bad)?;
                Ok(Self::Month(year(first)?, month))
            }
            Some(_) => date(text).map(Self::Day),
        }
    }

    /// The last day it names: itself, the end of its month, the end of its year.
    #[must_use]
    pub fn last_day(self) -> Date {
        match self {
            Self::Day(day) => day,
            Self::Month(year, month) => month_end(year, month).unwrap_or(Date::MAX),
            Self::Year(year) => month_end(year, 12).unwrap_or(Date::MAX),
        }
    }

    /// The last good day so many months later; `None` beyond the calendar (year 9999).
    #[must_use]
    pub fn last_good_day(self, months: u32) -> Option<Date> {
        match self {
            Self::Day(day) => {
                let span = jiff::Span::new().try_months(i64::from(months)).ok()?;
                // Days the month does not have become its last.
                day.checked_add(span).ok()
            }
            Self::Month(year, month) => month_after(year, month, months),
            Self::Year(year) => month_after(year, 12, months),
        }
    }
}

impl std::fmt::Display for Stated {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Day(day) => write!(f, "{day}"),
            Self::Month(year, month) => write!(f, "{year:04}-{month:02}"),
            Self::Year(year) => write!(f, "{year:04}"),
        }
    }
}

/// The last day of the month so many months after a month.
fn month_after(year: i16, month: i8, months: u32) -> Option<Date> {
    let all = i64::from(year) * 12 + i64::from(month) - 1 + i64::from(months);
    month_end(i16::try_from(all.div_euclid(12)).ok()?, (all.rem_euclid(12) + 1) as i8)
}

fn month_end(year: i16, month: i8) -> Option<Date> {
    Date::new(year, month, 1).ok().map(Date::last_of_month)
}
