//! Numbers as they are typed: `-3.2`, `5 3/16`, `5d54'`, `1:08.42`, and numbers as they are shown.
//!
//! Knows digits. It must not know units or which slot a number stands in.

use super::ruler;
pub use super::trouble::NumberTrouble;

/// More digits than this are a slip of the finger, not a reading.
const MOST_DIGITS: usize = 24;

/// Powers of ten; exact as floats up to the 22nd, and more is never needed.
const TENS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18,
    1e19, 1e20, 1e21, 1e22,
];

/// How a number was typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Form {
    /// `-3.2`
    Decimal,
    /// `5 3/16`, `+1/4`
    Fraction,
    /// `5d54'`; the value is in degrees.
    DegreesMinutes,
    /// `1:08.42`; the value is in seconds.
    Lap,
}

/// A number as typed. Whether it carries a unit is another matter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number {
    /// Its value, in the unit it stands in (degrees for `5d54'`, seconds for a lap).
    pub value: f64,
    /// Half of the last digit typed: 3.2 is 0.05, 5 is 0.5, 3/16 is 1/32, `5d54'` is half a minute.
    pub half: f64,
    /// How it was typed.
    pub form: Form,
    /// Whether a plus or a minus was typed.
    pub signed: bool,
    /// Decimals that show it as precisely as it was typed.
    pub decimals: u8,
}

impl Number {
    /// Reads one number.
    ///
    /// # Errors
    /// Says what is wrong with it; `a/b` that is not a fraction of a ruler comes back in its parts, for the
    /// quantities that take pairs.
    pub fn parse(text: &str) -> Result<Self, NumberTrouble> {
        let (sign, rest) = split_sign(text);
        if let Some((value, decimals)) = decimal(rest)? {
            return Ok(Self::new(value, half_digit(decimals), Form::Decimal, decimals).with(sign));
        }
        if rest.contains('/') {
            return ruler::fraction(text, rest).map(|number| number.with(sign));
        }
        if let Some((degrees, minutes)) = rest.split_once(['d', '°']) {
            return degrees_minutes(degrees, minutes).map(|number| number.with(sign));
        }
        Err(NumberTrouble::of_word(rest))
    }

    /// Reads `a/b` or `a/b/c` as separate numbers, for a quantity that declares them (`41/11`, `3/16` too).
    ///
    /// # Errors
    /// If a part is not a plain number.
    pub fn parse_parts(text: &str) -> Result<Vec<Self>, NumberTrouble> {
        let mut parts = Vec::new();
        for part in text.split('/') {
            let number = Self::parse(part)?;
            if parts.len() == ruler::MOST_PARTS {
                return Err(NumberTrouble::NotANumber);
            }
            parts.push(number);
        }
        Ok(parts)
    }

    /// Reads a lap time: minutes and seconds (`1:08.42`) or seconds (`67.18`). The value is in seconds.
    ///
    /// # Errors
    /// If it is not one, or has 60 seconds or more after the colon.
    pub fn parse_lap(text: &str) -> Result<Self, NumberTrouble> {
        let (minutes, seconds) = text.split_once(':').unwrap_or(("0", text));
        let (Some((whole, 0)), Some((part, decimals))) = (decimal(minutes)?, decimal(seconds)?) else {
            return Err(NumberTrouble::of_word(text));
        };
        if text.contains(':') {
            let digits = seconds.find('.').unwrap_or(seconds.len());
            if digits != 2 || minutes.len() > 4 {
                return Err(NumberTrouble::NotANumber);
            }
            if part >= 60.0 {
                return Err(NumberTrouble::SecondsRange);
            }
        }
        // Through the hundredths typed, so that 1:08.42 is the float of 68.42 and not its neighbour.
        let scale = TENS.get(usize::from(decimals)).copied().unwrap_or(1.0);
        let value = libm::round((whole * 60.0 + part) * scale) / scale;
        let value = if whole == 0.0 { part } else { value };
        Ok(Self::new(value, half_digit(decimals), Form::Lap, decimals))
    }

    pub(super) fn new(value: f64, half: f64, form: Form, decimals: u8) -> Self {
        Self { value, half, form, signed: false, decimals }
    }

    fn with(mut self, sign: Sign) -> Self {
        self.signed = sign != Sign::None;
        if sign == Sign::Minus {
            self.value = -self.value;
        }
        self
    }
}

/// The same with a sign in front: "+0.27", "-0.43".
#[must_use]
pub fn signed(value: f64, decimals: u8) -> String {
    let text = format(value, decimals);
    if text.starts_with('-') { text } else { format!("+{text}") }
}

/// A number with that many decimals, never trimmed, an ASCII minus; zero has no sign. At most 22 decimals. A half goes away from zero, also
/// where a way through other units has put it a hair beside it: 2 3/8 in is 2.38 wherever it is shown.
#[must_use]
pub fn format(value: f64, decimals: u8) -> String {
    let places = usize::from(decimals).min(TENS.len() - 1);
    let scale = TENS.get(places).copied().unwrap_or(1.0);
    let (digits, size) = (value * scale, (value * scale).abs());
    let tie = size < 1e9 && (size - size.floor() - 0.5).abs() < 1e-9 + 2.0 * f64::EPSILON * size;
    let value = if tie { (size.floor() + 1.0).copysign(digits) / scale } else { value };
    let text = format!("{value:.places$}");
    match text.strip_prefix('-') {
        Some(size) if size.bytes().all(|b| matches!(b, b'0' | b'.')) => size.to_owned(),
        _ => text,
    }
}

/// The fewest decimals whose rounding is no coarser than `half`: 0.05 takes one, 0.02 takes two, 3 takes none.
/// For showing a value in another unit than the one it was typed in.
#[must_use]
pub fn decimals_for(half: f64) -> u8 {
    // A hair of room, so that 0.05 after a conversion there and back still counts as 0.05.
    let room = half * (1.0 + 1e-9);
    (0..12).find(|&decimals| half_digit(decimals) <= room).unwrap_or(12)
}

/// Half of the last digit of a number with that many decimals.
fn half_digit(decimals: u8) -> f64 {
    0.5 / TENS.get(usize::from(decimals)).copied().unwrap_or(1e22)
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Sign {
    None,
    Plus,
    Minus,
}

/// The sign and what follows it; the minus may be typographic (U+2212).
fn split_sign(text: &str) -> (Sign, &str) {
    if let Some(rest) = text.strip_prefix(['-', '\u{2212}']) {
        (Sign::Minus, rest)
    } else if let Some(rest) = text.strip_prefix('+') {
        (Sign::Plus, rest)
    } else {
        (Sign::None, text)
    }
}

/// An unsigned plain decimal and its number of decimals; `None` if the text is something else.
pub(super) fn decimal(text: &str) -> Result<Option<(f64, u8)>, NumberTrouble> {
    let mut digits = 0;
    let mut point = None;
    let mut whole: u64 = 0;
    for byte in text.bytes() {
        match byte {
            b'0'..=b'9' => {
                digits += 1;
                whole = whole.wrapping_mul(10).wrapping_add(u64::from(byte - b'0'));
            }
            b'.' if point.is_none() => point = Some(digits),
            _ => return Ok(None),
        }
    }
    let decimals = point.map_or(0, |before| digits - before);
    if digits == 0 || (point.is_some() && decimals == 0) {
        return Ok(None);
    }
    let Some(scale) = TENS.get(decimals).filter(|_| digits <= MOST_DIGITS) else {
        return Err(NumberTrouble::TooLong);
    };
    if digits <= 15 {
        // Both are exact as floats, so their quotient is the nearest float to what was typed, as `parse` finds it.
        return Ok(Some((whole as f64 / scale, decimals as u8)));
    }
    Ok(text.parse().ok().map(|value| (value, decimals as u8)))
}

fn degrees_minutes(degrees: &str, minutes: &str) -> Result<Number, NumberTrouble> {
    let minutes = minutes.strip_suffix(['\'', '\u{2032}', '\u{2019}']).unwrap_or(minutes);
    let (Some((whole, 0)), Some((part, decimals))) = (decimal(degrees)?, decimal(minutes)?) else {
        return Err(NumberTrouble::NotANumber);
    };
    if degrees.contains('.') {
        return Err(NumberTrouble::NotANumber);
    }
    if part >= 60.0 {
        return Err(NumberTrouble::MinutesRange);
    }
    let value = (whole * 60.0 + part) / 60.0;
    // A minute is 0.017 degrees: two decimals more than the minutes have.
    Ok(Number::new(value, half_digit(decimals) / 60.0, Form::DegreesMinutes, decimals.saturating_add(2)))
}
