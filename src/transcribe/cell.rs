//! What one cell says: a number, a lap time, a day, a time of day; each by the ways it may be read.
//!
//! Numbers keep their digits as typed, since these say how finely they were read. Must not know columns or cars.

use jiff::civil::Date;

/// How numbers are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Numbers {
    /// Between whole and fraction: `.` or `,`.
    pub decimal: char,
    /// Whether three colon-separated numbers without a fraction are minutes, seconds and hundredths (else hours, minutes, seconds).
    pub hundredths: bool,
}

impl Numbers {
    /// Every way, the most usual first.
    pub const WAYS: [Self; 4] = [
        Self { decimal: '.', hundredths: false },
        Self { decimal: ',', hundredths: false },
        Self { decimal: '.', hundredths: true },
        Self { decimal: ',', hundredths: true },
    ];

    /// What stands between thousands, where anything does, besides a blank or an apostrophe.
    const fn thousands(self) -> char {
        if self.decimal == '.' { ',' } else { '.' }
    }
}

/// The order of a date's numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Order {
    /// 2026-05-10.
    YearMonthDay,
    /// 10/05/2026.
    DayMonthYear,
    /// 05/10/2026.
    MonthDayYear,
}

impl Order {
    /// Every order.
    pub const WAYS: [Self; 3] = [Self::YearMonthDay, Self::DayMonthYear, Self::MonthDayYear];

    /// As the mapping says it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::YearMonthDay => "year-month-day",
            Self::DayMonthYear => "day-month-year",
            Self::MonthDayYear => "month-day-year",
        }
    }
}

/// Whether a cell says that nothing was read.
#[must_use]
pub fn is_empty(cell: &str) -> bool {
    const NOTHING: [&str; 9] = ["", "-", "--", "\u{2013}", "\u{2014}", "n/a", "na", "#n/a", "?"];
    NOTHING.iter().any(|one| cell.eq_ignore_ascii_case(one))
}

/// A number with its digits kept, as a ledger writes it; the unit that stands behind it, if one does.
///
/// `None` where it is none under this way. Exponents are none: a spreadsheet that shows them has cut digits off.
#[must_use]
pub fn number(cell: &str, way: Numbers) -> Option<(String, Option<&str>)> {
    if let Some(angle) = degrees_minutes(cell.trim()) {
        return Some((angle, Some("deg")));
    }
    let end =
        cell.char_indices().rev().find(|(_, c)| c.is_ascii_digit()).map_or(0, |(at, c)| at + c.len_utf8());
    let (digits, unit) = cell.split_at_checked(end)?;
    let unit = unit.trim();
    if unit.starts_with([',', '.', ':', '/']) {
        return None;
    }
    let typed = digits.trim();
    let mut rest = typed.chars();
    let (sign, rest) = match rest.next()? {
        '-' | '\u{2212}' => ("-", rest.as_str()),
        '+' => ("", rest.as_str()),
        _ => ("", typed),
    };
    let plain = if rest.contains('/') { ruler(rest)? } else { decimal(rest, way)? };
    Some((format!("{sign}{plain}"), (!unit.is_empty()).then_some(unit)))
}

/// `-2d45'`, `-2°45′`: degrees and minutes of angle, in every way the same.
fn degrees_minutes(text: &str) -> Option<String> {
    let (sign, rest) = match text.chars().next()? {
        '-' | '\u{2212}' => ("-", text.trim_start_matches(['-', '\u{2212}'])),
        _ => ("", text.trim_start_matches('+')),
    };
    let (degrees, minutes) = rest.split_once(['d', '\u{B0}'])?;
    let minutes = minutes.trim().strip_suffix(['\'', '\u{2032}', '\u{2019}'])?;
    let whole = |text: &str| (1..=2).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
    let both = whole(degrees) && whole(minutes) && minutes.parse::<u8>().is_ok_and(|minutes| minutes < 60);
    both.then(|| format!("{sign}{degrees}d{minutes:0>2}'"))
}

/// `5 3/16`, `5-3/16`, `3/32`: a ruler's fraction is the same in every way.
fn ruler(text: &str) -> Option<String> {
    let (before, under) = text.split_once('/')?;
    let (whole, over) =
        before.rsplit_once([' ', '-']).map_or((None, before), |(whole, over)| (Some(whole), over));
    let all_digits =
        |text: &str| !text.is_empty() && text.len() <= 6 && text.bytes().all(|byte| byte.is_ascii_digit());
    let whole = whole.map(str::trim);
    (all_digits(over) && all_digits(under) && whole.is_none_or(all_digits))
        .then(|| whole.map_or_else(|| format!("{over}/{under}"), |whole| format!("{whole} {over}/{under}")))
}

/// Digits with a fraction and groups of thousands.
fn decimal(text: &str, way: Numbers) -> Option<String> {
    let (whole, part) =
        text.split_once(way.decimal).map_or((text, None), |(whole, part)| (whole, Some(part)));
    let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    if part.is_some_and(|part| part.is_empty() || !digits(part)) {
        return None;
    }
    let apart = |c: char| {
        c == way.thousands() || matches!(c, ' ' | '\u{A0}' | '\u{202F}' | '\u{2009}' | '\'' | '\u{2019}')
    };
    let mut groups = whole.split(apart);
    let first = groups.next()?;
    let others: Vec<&str> = groups.collect();
    let grouped = others.is_empty()
        || (1..=3).contains(&first.len())
            && !first.starts_with('0')
            && others.iter().all(|one| one.len() == 3);
    // One separator throughout: `1.234 567` is no number.
    let mut marks = whole.chars().filter(|c| apart(*c));
    let mark = marks.next();
    let sure = grouped && marks.all(|c| Some(c) == mark);
    if !sure || !digits(first) || !others.iter().all(|one| digits(one)) || whole.is_empty() && part.is_none()
    {
        return None;
    }
    let whole = if whole.is_empty() { "0".to_owned() } else { format!("{first}{}", others.concat()) };
    (whole.len() <= 15).then(|| part.map_or_else(|| whole.clone(), |part| format!("{whole}.{part}")))
}

/// A lap time as a ledger writes it: `1:08.42`, or seconds as typed.
#[must_use]
pub fn lap(cell: &str, way: Numbers) -> Option<String> {
    // 1'08"42 and 1'08.42" are minutes, seconds and their fraction.
    let plain = cell.trim().replace(['\'', '\u{2032}', '\u{2019}'], ":");
    let plain = plain.trim_end_matches(['"', '\u{2033}', '\u{201D}', 's']).trim_end();
    let plain = plain.replace(['"', '\u{2033}', '\u{201D}'], &way.decimal.to_string());
    let parts: Vec<&str> = plain.split(':').map(str::trim).collect();
    let whole =
        |text: &str| (!text.is_empty() && text.len() <= 3).then(|| text.parse::<u32>().ok()).flatten();
    let seconds = |text: &str| {
        let kept = decimal(text, way)?;
        let (digits, _) = kept.split_once('.').unwrap_or((&kept, ""));
        (digits.len() <= 2 && kept.parse::<f64>().is_ok_and(|value| value < 60.0))
            .then(|| if digits.len() == 1 { format!("0{kept}") } else { kept.clone() })
    };
    match parts.as_slice() {
        // As a part of a day, which is how spreadsheets keep times, it would be a lap of less than a second.
        [one] => decimal(one, way).filter(|kept| kept.parse::<f64>().is_ok_and(|value| value >= 1.0)),
        [minutes, rest] => Some(format!("{}:{}", whole(minutes)?, seconds(rest)?)),
        [minutes, rest, hundredths] if way.hundredths => {
            let fine =
                matches!(hundredths.len(), 2 | 3) && hundredths.bytes().all(|byte| byte.is_ascii_digit());
            let fraction = hundredths.contains(way.decimal);
            match (fraction, fine) {
                // With a fraction of its own the last is seconds, whatever the way.
                (true, _) => hours(minutes, rest, hundredths, &whole, &seconds),
                (false, true) if rest.len() <= 2 && whole(rest)? < 60 => {
                    Some(format!("{}:{:02}.{hundredths}", whole(minutes)?, whole(rest)?))
                }
                _ => None,
            }
        }
        [hour, minutes, rest] => hours(hour, minutes, rest, &whole, &seconds),
        _ => None,
    }
}

fn hours(
    hour: &str,
    minutes: &str,
    rest: &str,
    whole: &impl Fn(&str) -> Option<u32>,
    seconds: &impl Fn(&str) -> Option<String>,
) -> Option<String> {
    let minutes = whole(minutes).filter(|minutes| *minutes < 60)? + whole(hour)? * 60;
    (minutes < 10_000).then_some(())?;
    Some(format!("{minutes}:{}", seconds(rest)?))
}

/// The day that a cell names, and the time of day that stands behind it.
///
/// Two digits of a year are read as POSIX does (`strptime`, `%y`): 69 to 99 are of the twentieth century.
#[must_use]
pub fn day(cell: &str, order: Order) -> Option<(Date, Option<u16>)> {
    let cell = cell.trim();
    let (date, rest) = match cell.find('T').filter(|at| {
        cell.get(..*at)
            .is_some_and(|text| text.bytes().any(|byte| byte.is_ascii_digit()) && text.contains('-'))
    }) {
        Some(at) => (cell.get(..at)?, cell.get(at + 1..)),
        None => match cell.split_once(' ').filter(|(_, rest)| rest.contains(':')) {
            // `10 May 2026 09:30`: the time is the last word.
            Some(_) => {
                let at = cell.find(':').and_then(|colon| cell.get(..colon)?.rfind(' '))?;
                (cell.get(..at)?, cell.get(at + 1..))
            }
            None => (cell, None),
        },
    };
    let time = match rest {
        Some(rest) => Some(time(rest)?),
        None => None,
    };
    let parts: Vec<&str> = date.split(['-', '/', '.', ' ', ',']).filter(|part| !part.is_empty()).collect();
    let parts: [&str; 3] = parts.try_into().ok()?;
    let named = parts.iter().position(|part| month(part).is_some());
    let (year, month_of, day) = match (named, order) {
        // A month by its name: the year is the one with four digits, or the last.
        (Some(1), _) if parts.first().is_some_and(|year| year.len() == 4) => order3(parts, [0, 1, 2]),
        (Some(1), _) => order3(parts, [2, 1, 0]),
        (Some(0), _) => order3(parts, [2, 0, 1]),
        (Some(_), _) => return None,
        (None, Order::YearMonthDay) => order3(parts, [0, 1, 2]),
        (None, Order::DayMonthYear) => order3(parts, [2, 1, 0]),
        (None, Order::MonthDayYear) => order3(parts, [2, 0, 1]),
    };
    let digits = |text: &str, most: usize| {
        (text.len() <= most && !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit()))
            .then(|| text.parse::<i16>().ok())
            .flatten()
    };
    let year = match (digits(year, 4)?, year.len()) {
        (year, 4) => year,
        (year @ 0..=68, 2) => 2000 + year,
        (year, 2) => 1900 + year,
        _ => return None,
    };
    let month = month(month_of).or_else(|| digits(month_of, 2).and_then(|month| i8::try_from(month).ok()))?;
    let date = Date::new(year, month, i8::try_from(digits(day, 2)?).ok()?).ok()?;
    (1900..3000).contains(&date.year()).then_some((date, time))
}

fn order3(parts: [&str; 3], [year, month, day]: [usize; 3]) -> (&str, &str, &str) {
    let at = |index: usize| parts.get(index).copied().unwrap_or_default();
    (at(year), at(month), at(day))
}

/// The month of an English name, whole or its first three letters.
fn month(word: &str) -> Option<i8> {
    const MONTHS: [&str; 12] = [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ];
    let word = word.to_ascii_lowercase();
    let found = MONTHS.iter().position(|name| *name == word || word.len() == 3 && name.starts_with(&word))?;
    i8::try_from(found + 1).ok()
}

/// Minutes of the day: `9:30`, `09:30:12`, `9:30 pm`. Seconds are dropped, a ledger has none.
#[must_use]
pub fn time(cell: &str) -> Option<u16> {
    let lower = cell.trim().to_ascii_lowercase();
    let (clock, afternoon) = match lower.strip_suffix("pm").or_else(|| lower.strip_suffix("p.m.")) {
        Some(clock) => (clock, Some(true)),
        None => match lower.strip_suffix("am").or_else(|| lower.strip_suffix("a.m.")) {
            Some(clock) => (clock, Some(false)),
            None => (lower.as_str(), None),
        },
    };
    let parts: Vec<&str> = clock.trim().split(':').collect();
    let ([hour, minute] | [hour, minute, _]) = parts.as_slice() else { return None };
    let digits = |text: &str| {
        ((1..=2).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit()))
            .then(|| text.parse::<u16>().ok())
            .flatten()
    };
    if let [_, _, second] = parts.as_slice() {
        let whole = second.split(['.', ',']).next().unwrap_or_default();
        digits(whole).filter(|second| *second < 60)?;
    }
    let minute = digits(minute).filter(|minute| *minute < 60)?;
    let hour = match (digits(hour)?, afternoon) {
        (hour @ 0..=23, None) => hour,
        (12, Some(true)) => 12,
        (12, Some(false)) => 0,
        (hour @ 1..=11, Some(afternoon)) => hour + if afternoon { 12 } else { 0 },
        _ => return None,
    };
    Some(hour * 60 + minute)
}
