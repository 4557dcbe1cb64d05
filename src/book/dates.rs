//! Dates and clock times as typed.
//!
//! Must not know zones (see `history::time`), nor what happens on a date.

use jiff::civil::Date;

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
    let bad = DateTrouble::Impossible(None);
    let year = text.get(0..4).and_then(|year| year.parse::<i16>().ok()).ok_or(bad)?;
    let month = text.get(5..7).and_then(|month| month.parse::<i8>().ok()).ok_or(bad)?;
    let day = text.get(8..10).and_then(|day| day.parse::<i8>().ok()).ok_or(bad)?;
    make(year, month, day)
}

fn make(year: i16, month: i8, day: i8) -> Result<Date, DateTrouble> {
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
    let number = |part: &str| part.parse::<i8>().map_err(|_| DateTrouble::Impossible(None));
    let year_of = |part: &str| part.parse::<i16>().map_err(|_| DateTrouble::Impossible(None));
    let last = match parts.as_slice() {
        [day] => make(first.year(), first.month(), number(day)?)?,
        [month, day] => make(first.year(), number(month)?, number(day)?)?,
        [year, month, day] => make(year_of(year)?, number(month)?, number(day)?)?,
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
    let (hour, minute) = (hour.parse::<i16>().ok()?, minute.parse::<i16>().ok()?);
    (hour < 24 && minute < 60 || hour == 24 && minute == 0).then_some(hour * 60 + minute)
}

/// Reads `+01:00` or `-03:30` as minutes ahead of UTC; `None` where no clock is so far off (18 hours at most).
#[must_use]
pub fn offset(text: &str) -> Option<i16> {
    let body = text.strip_prefix(['+', '-', '\u{2212}'])?;
    let (hours, minutes) = body.split_once(':')?;
    let (hours, minutes) = (hours.parse::<i16>().ok()?, minutes.parse::<i16>().ok()?);
    let ahead = hours * 60 + minutes;
    let real = hours <= 18 && minutes < 60;
    real.then_some(if text.starts_with('+') { ahead } else { -ahead })
}
