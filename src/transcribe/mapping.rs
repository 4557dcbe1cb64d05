//! The mapping: which column of a sheet is what, as a person writes it once (TOML 1.0).
//!
//! Must not know any sheet, nor what the words after the columns mean.

use super::cell::Order;
use std::collections::BTreeMap;

/// What stands between two columns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Separator {
    /// `,`
    Comma,
    /// `;`
    Semicolon,
    /// A tab.
    Tab,
}

impl Separator {
    /// Every one.
    pub const ALL: [Self; 3] = [Self::Comma, Self::Semicolon, Self::Tab];

    /// The byte.
    #[must_use]
    pub const fn byte(self) -> u8 {
        match self {
            Self::Comma => b',',
            Self::Semicolon => b';',
            Self::Tab => b'\t',
        }
    }

    /// In words.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Comma => "commas",
            Self::Semicolon => "semicolons",
            Self::Tab => "tabs",
        }
    }
}

/// What stands between whole and fraction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Decimal {
    /// `.`
    Point,
    /// `,`
    Comma,
}

/// What three numbers of a lap time are, where none has a fraction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LapTimes {
    /// Hours, minutes, seconds.
    HoursMinutesSeconds,
    /// Minutes, seconds, hundredths (or thousandths, by three digits).
    MinutesSecondsHundredths,
}

/// A mapping.
#[derive(Debug, Clone, Default, serde::Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Mapping {
    /// The car of every row.
    pub car: Option<String>,
    /// The day of every row, year first.
    pub date: Option<String>,
    /// The event of every row.
    pub event: Option<String>,
    /// The session of every row.
    pub session: Option<String>,
    /// Who drove in every row.
    pub driver: Option<String>,
    /// The gauge of every reading.
    pub gauge: Option<String>,
    /// What stands between columns, where it is not to be found out.
    pub separator: Option<Separator>,
    /// The decimal mark, where it is not to be found out.
    pub decimal: Option<Decimal>,
    /// The order of dates, where it is not to be found out.
    pub dates: Option<Order>,
    /// How lap times of three numbers are meant.
    pub lap_times: Option<LapTimes>,
    /// What each column is, by its head or, `#4`, by its number.
    #[serde(default)]
    pub columns: BTreeMap<String, String>,
    /// What the sheet's words are in the book: drivers, cars, sessions, marks of laps.
    #[serde(default)]
    pub words: BTreeMap<String, String>,
}

impl Mapping {
    /// Reads one.
    ///
    /// # Errors
    /// What is wrong, with its line.
    pub fn read(text: &str) -> Result<Self, String> {
        let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
        let mapping: Self = toml::from_str(text).map_err(|error| {
            let at = error.span().map_or(0, |span| span.start);
            let line = text.get(..at).map_or(1, |before| before.matches('\n').count() + 1);
            format!("line {line}: {}", error.message())
        })?;
        if mapping.columns.is_empty() {
            return Err(
                "it says of no column what it is: a line below `[columns]` such as \"Best\" = \"best\" does"
                    .to_owned(),
            );
        }
        Ok(mapping)
    }

    /// The book's word for a word of the sheet.
    #[must_use]
    pub fn word<'a>(&'a self, cell: &'a str) -> &'a str {
        let cell = cell.trim();
        let found = self.words.iter().find(|(word, _)| crate::book::names::same(word.trim(), cell));
        found.map_or(cell, |(_, word)| word.as_str())
    }
}
