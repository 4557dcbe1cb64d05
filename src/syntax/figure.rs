//! Telling apart the words that start like a number.
//!
//! Must not know units or quantities: `26psi` is a number and a word, whatever the word means.

use super::Shape;

/// What a figure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Piece {
    /// One word of this shape.
    One(Shape),
    /// A number (of this shape) of so many bytes, with a word stuck to it.
    Glued(usize, Shape),
}

/// Sorts a word that starts with a digit, a sign and a digit, or a point.
pub fn piece(text: &str) -> Piece {
    let body = text.strip_prefix(['-', '+', '\u{2212}']).unwrap_or(text);
    if body.contains("..") {
        return Piece::One(range(body));
    }
    if body.contains(':') {
        return Piece::One(time(body));
    }
    if is_date(body) {
        return Piece::One(Shape::Date);
    }
    if is_degrees(body) || is_dash_fraction(body) {
        return Piece::One(Shape::Number);
    }
    if body.contains('/') {
        return ratio(text, body);
    }
    glued(text, body)
}

/// Whether `N/D` is a fraction of a ruler: N < D, D a power of two from 2 to 64.
pub fn is_ruler(text: &str) -> bool {
    let body = text.strip_prefix(['-', '+', '\u{2212}']).unwrap_or(text);
    let Some((top, bottom)) = body.split_once('/') else { return false };
    let (Ok(top), Ok(bottom)) = (top.parse::<u32>(), bottom.parse::<u32>()) else { return false };
    top > 0 && top < bottom && (2..=64).contains(&bottom) && bottom.is_power_of_two()
}

/// Digits with at most one point, at least one digit.
fn is_decimal(text: &str) -> bool {
    let text = text.strip_prefix(['-', '+', '\u{2212}']).unwrap_or(text);
    let mut points = 0;
    let mut digits = 0;
    for byte in text.bytes() {
        match byte {
            b'0'..=b'9' => digits += 1,
            b'.' => points += 1,
            _ => return false,
        }
    }
    digits > 0 && points <= 1
}

fn range(body: &str) -> Shape {
    let (from, to) = body.split_once("..").unwrap_or((body, ""));
    let end = |text: &str| {
        let size = text.strip_prefix(['-', '+', '\u{2212}']).unwrap_or(text);
        is_decimal(text) || is_ruler(text) || is_dash_fraction(size)
    };
    if end(from) && end(to) {
        Shape::Range
    } else if is_date(from) {
        Shape::Date
    } else if time(from) == Shape::Clock && time(to) == Shape::Clock {
        Shape::Clock
    } else {
        Shape::Code
    }
}

fn time(body: &str) -> Shape {
    let Some((big, small)) = body.split_once(':') else { return Shape::Code };
    let whole = !big.is_empty() && big.len() <= 2 && big.bytes().all(|byte| byte.is_ascii_digit());
    if whole && small.len() == 2 && small.bytes().all(|byte| byte.is_ascii_digit()) {
        Shape::Clock
    } else if whole && small.contains('.') && is_decimal(small) {
        Shape::Lap
    } else {
        Shape::Code
    }
}

fn is_date(body: &str) -> bool {
    let bytes = body.as_bytes();
    bytes.len() == 10
        && bytes.iter().enumerate().all(|(at, byte)| match at {
            4 | 7 => *byte == b'-',
            _ => byte.is_ascii_digit(),
        })
}

/// `5d54'`, `5°54'`, `0d21.5'`, `5d54`.
fn is_degrees(body: &str) -> bool {
    let Some((degrees, minutes)) = body.split_once(['d', '°']) else { return false };
    let minutes = minutes.strip_suffix(['\'', '\u{2032}', '\u{2019}']).unwrap_or(minutes);
    degrees.bytes().all(|byte| byte.is_ascii_digit()) && !degrees.is_empty() && is_decimal(minutes)
}

/// `5-3/16`.
fn is_dash_fraction(body: &str) -> bool {
    let Some((whole, rest)) = body.split_once('-') else { return false };
    !whole.is_empty() && whole.bytes().all(|byte| byte.is_ascii_digit()) && is_ruler(rest)
}

fn ratio(text: &str, body: &str) -> Piece {
    if body.split('/').all(is_decimal) && body.split('/').count() <= 3 {
        return Piece::One(Shape::Ratio);
    }
    // `13/16in`: a fraction with its unit stuck to it; `12N/mm`: a number with a compound unit.
    if let Some(at) = body.find(|first: char| !(first.is_ascii_digit() || first == '.' || first == '/')) {
        let split = text.len() - body.len() + at;
        let (number, unit) = body.split_at(at);
        if number.contains('/') && is_ruler(number) && is_unit(unit) {
            return Piece::Glued(split, Shape::Number);
        }
        if is_decimal(number) && is_unit(unit) {
            return Piece::Glued(split, Shape::Number);
        }
    }
    Piece::One(Shape::Code)
}

/// The parts of an inch that a ruler has, as they begin a unit.
const RULER: [&str; 3] = ["16", "32", "64"];

fn glued(text: &str, body: &str) -> Piece {
    let Some(at) = body.find(|first: char| !(first.is_ascii_digit() || first == '.')) else {
        return Piece::One(if is_decimal(body) { Shape::Number } else { Shape::Code });
    };
    let (number, rest) = body.split_at(at);
    // `5 32nds`: the parts of a ruler's inch are units whose names begin with digits.
    if number.len() == text.len() - rest.len()
        && RULER.contains(&number)
        && matches!(rest, "nd" | "nds" | "th" | "ths")
    {
        return Piece::One(Shape::Word);
    }
    if is_decimal(number) && is_unit(rest) {
        Piece::Glued(text.len() - body.len() + at, Shape::Number)
    } else {
        Piece::One(Shape::Code)
    }
}

/// Whether the rest of a figure could be a unit: letters and unit marks, digits only after a slash (`L/100km`).
fn is_unit(rest: &str) -> bool {
    let (before, after) = rest.split_once('/').map_or((rest, None), |(a, b)| (a, Some(b)));
    let mark =
        |each: char| each.is_alphabetic() || matches!(each, '%' | '°' | '.' | '·' | '\'' | '-' | '²' | '³');
    before.chars().next().is_some_and(|first| first.is_alphabetic() || matches!(first, '%' | '°' | '\''))
        && before.chars().all(mark)
        && after.is_none_or(|after| after.chars().all(|each| mark(each) || each.is_ascii_digit()))
}
