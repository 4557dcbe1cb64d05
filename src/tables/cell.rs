//! One cell of a table.
//!
//! Must not know what it is a cell of, nor how it is written.

use crate::visible;
use jiff::civil::Date;
use std::borrow::Cow;

/// A cell. What is missing is nothing, and never a zero or an empty text.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell<'a> {
    /// Missing.
    Nothing,
    /// Words.
    Text(Cow<'a, str>),
    /// A whole number.
    Whole(i64),
    /// A number that is finite.
    Real(f64),
}

impl Cell<'_> {
    /// The digits of a number that is kept digit by digit.
    #[must_use]
    pub fn exact(digits: String) -> Self {
        Self::from(digits)
    }

    /// By how much a value may be off, which is kept as a shorter number where it comes from what was typed.
    #[must_use]
    pub fn half(width: f64) -> Self {
        let short = width as f32;
        if f64::from(short).to_bits() == width.to_bits() { Self::from(short) } else { Self::from(width) }
    }

    /// Whether it is missing.
    #[must_use]
    pub const fn is_nothing(&self) -> bool {
        matches!(self, Self::Nothing)
    }
}

impl<'a> From<Cow<'a, str>> for Cell<'a> {
    fn from(text: Cow<'a, str>) -> Self {
        if text.trim().is_empty() {
            return Self::Nothing;
        }
        match text {
            Cow::Borrowed(text) => Self::Text(visible::text(text)),
            Cow::Owned(text) => Self::Text(Cow::Owned(visible::text(&text).into_owned())),
        }
    }
}

impl<'a> From<&'a str> for Cell<'a> {
    fn from(text: &'a str) -> Self {
        Self::from(Cow::Borrowed(text))
    }
}

impl<'a> From<&'a String> for Cell<'a> {
    fn from(text: &'a String) -> Self {
        Self::from(text.as_str())
    }
}

impl<'a> From<&'a Box<str>> for Cell<'a> {
    fn from(text: &'a Box<str>) -> Self {
        Self::from(&**text)
    }
}

impl From<String> for Cell<'_> {
    fn from(text: String) -> Self {
        Self::from(Cow::Owned(text))
    }
}

impl From<Date> for Cell<'_> {
    fn from(day: Date) -> Self {
        Self::Text(Cow::Owned(day.to_string()))
    }
}

impl From<f64> for Cell<'_> {
    fn from(number: f64) -> Self {
        // A zero has no sign here: what is no number is missing.
        if number == 0.0 {
            Self::Real(0.0)
        } else if number.is_finite() {
            Self::Real(number)
        } else {
            Self::Nothing
        }
    }
}

impl From<f32> for Cell<'_> {
    fn from(number: f32) -> Self {
        // The digits that tell it from every other of its own length, and not those of a longer number.
        Self::from(number.to_string().parse::<f64>().ok())
    }
}

impl From<i64> for Cell<'_> {
    fn from(number: i64) -> Self {
        Self::Whole(number)
    }
}

impl From<u32> for Cell<'_> {
    fn from(number: u32) -> Self {
        Self::Whole(number.into())
    }
}

impl From<bool> for Cell<'_> {
    fn from(yes: bool) -> Self {
        Self::Whole(yes.into())
    }
}

impl<T> From<Option<T>> for Cell<'_>
where
    Self: From<T>,
{
    fn from(one: Option<T>) -> Self {
        one.map_or(Self::Nothing, Self::from)
    }
}
