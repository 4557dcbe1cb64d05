//! Dates and clock times as typed.
//!
//! Must not know zones (see `history::time`), nor what happens on a date.

use jiff::civil::Date;
use std::ops::RangeInclusive;

/// The years that a block can be of. Instants are minutes since 1970 in 32 bits, which hold them all, and the time between any two.
pub const YEARS: RangeInclusive<i16> = 1900..=2999;

/// Why a typed date is none.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DateTrouble {
    /// No such day; how many days that month has, if it is a month.
    Impossible(Option<i8>),
    /// The range ends before it starts.
    Backward,
}

/// Reads `2026-04-18`.
///
/// # Errors
/// When there is no such day.
pub fn date(text: &str) -> Result<Date, DateTrouble> {
    match text.split('-').collect::<Vec<_>>().as_slice() {
        [year, month, day] => whole_date(year, month, day),
        _ => Err(DateTrouble::Impossible(None)),
    }
}

fn whole_date(year: &str, month: &str, day: &str) -> Result<Date, DateTrouble> {
    make(number(year, 4..=4)?, number(month, 2..=2)?, number(day, 2..=2)?)
}

/// Digits, and nothing else: no sign.
fn digits(text: &str, many: RangeInclusive<usize>) -> Option<i16> {
    let only = many.contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
    only.then(|| text.parse().ok()).flatten()
}

fn number(text: &str, many: RangeInclusive<usize>) -> Result<i16, DateTrouble> {
    digits(text, many).ok_or(DateTrouble::Impossible(None))
}

fn make(year: i16, month: i16, day: i16) -> Result<Date, DateTrouble> {
    // At most two digits each.
    let (month, day) = (month as i8, day as i8);
    Date::new(year, month, day).map_err(|_| {
        let days = Date::new(year, month, 1).ok().map(Date::days_in_month);
        DateTrouble::Impossible(days)
    })
}

/// Reads `2026-04-18`, `2026-04-18..19`, `2026-05-30..06-02` or `2026-12-30..2027-01-02`.
///
/// # Errors
/// When one of the days does not exist, or the last is before the first.
pub fn dates(text: &str) -> Result<(Date, Date), DateTrouble> {
    let Some((from, to)) = text.split_once("..") else {
        let only = date(text)?;
        return Ok((only, only));
    };
    let first = date(from)?;
    let parts: Vec<&str> = to.split('-').collect();
    let last = match parts.as_slice() {
        [day] => make(first.year(), i16::from(first.month()), number(day, 1..=2)?)?,
        [month, day] => make(first.year(), number(month, 1..=2)?, number(day, 1..=2)?)?,
        [year, month, day] => whole_date(year, month, day)?,
        _ => return Err(DateTrouble::Impossible(None)),
    };
    if last < first { Err(DateTrouble::Backward) } else { Ok((first, last)) }
}

/// What the clock is ahead of UTC, minutes, as typed behind the start and behind the end of a line's times.
pub type Offsets = (Option<i16>, Option<i16>);

/// Reads `09:35` or `09:35..09:55` as minutes of the day; the end is -1 when there is none. `None` for a time no day has.
#[must_use]
pub fn clock(text: &str) -> Option<(i16, i16)> {
    match text.split_once("..") {
        Some((from, to)) => Some((face(from)?, face(to)?)),
        None => Some((face(text)?, -1)),
    }
}

fn face(text: &str) -> Option<i16> {
    let (hour, minute) = text.split_once(':')?;
    let (hour, minute) = (digits(hour, 1..=2)?, digits(minute, 2..=2)?);
    (hour < 24 && minute < 60 || hour == 24 && minute == 0).then_some(hour * 60 + minute)
}

/// Reads `+01:00` or `-03:30` as minutes ahead of UTC; `None` where no clock is so far off (18 hours at most).
#[must_use]
pub fn offset(text: &str) -> Option<i16> {
    let body = text.strip_prefix(['+', '-', '\u{2212}'])?;
    let (hours, minutes) = body.split_once(':')?;
    let (hours, minutes) = (digits(hours, 2..=2)?, digits(minutes, 2..=2)?);
    let real = hours <= 18 && minutes < 60;
    let ahead = hours * 60 + minutes;
    real.then_some(if text.starts_with('+') { ahead } else { -ahead })
}
