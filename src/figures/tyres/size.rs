//! The numbers inside a tyre's size code, and the standard's table of rims.
//!
//! What follows from them is arithmetic, in `grammar/figures.sline`. Must not know pressures.

use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing};
use crate::figures::code::Code;
use crate::figures::typed::Typed;
use crate::units::{DimensionId, UnitId, table};

/// What the program works out.
pub const FIGURES: &[Code] = &[
    ("section-width", |calc, place| size(calc, place).map(|size| size.width)),
    ("section-aspect", |calc, place| size(calc, place).map(|size| size.aspect)),
    ("rim-diameter", |calc, place| size(calc, place).map(|size| size.rim)),
    ("rim-by-table", by_table),
    ("tyre-is-radial", radial),
];

/// A rim code in whole millimetres (ISO 4000-1). The name is the default's own.
const RIMS: [(&str, &str, f64); 8] = [
    ("13", "rim 13 by the tables", 0.330),
    ("14", "rim 14 by the tables", 0.356),
    ("15", "rim 15 by the tables", 0.381),
    ("16", "rim 16 by the tables", 0.406),
    ("17", "rim 17 by the tables", 0.432),
    ("18", "rim 18 by the tables", 0.457),
    ("19", "rim 19 by the tables", 0.483),
    ("20", "rim 20 by the tables", 0.508),
];

/// A size code's numbers.
struct Size {
    width: Fig,
    aspect: Fig,
    rim: Fig,
    rim_code: String,
    radial: bool,
}

/// Takes `205/55R16` apart; letters before the width (`P205`) and after the rim (`91V`) are let be.
fn size(calc: &mut Calc<'_>, place: Place) -> Got<Size> {
    let typed = calc.typed("tyre-size", place)?;
    let text = calc.files.text(typed.item.span(typed.file)).to_owned();
    let bad = || {
        Missing::one(format!("{} as width/aspect, R, rim, such as 205/55R16 (it says {text})", typed.name))
    };
    let take = |from: usize, wanted: fn(char) -> bool| {
        let rest = text.get(from..).unwrap_or_default();
        rest.find(|c: char| !wanted(c)).map_or(text.len(), |at| from + at)
    };
    let digit: fn(char) -> bool = |c| c.is_ascii_digit() || c == '.';
    let start = take(0, |c| !c.is_ascii_digit());
    let width_end = take(start, digit);
    if text.get(width_end..=width_end) != Some("/") {
        return Err(bad());
    }
    let aspect_end = take(width_end + 1, digit);
    let letters_end = take(aspect_end, |c| !c.is_ascii_digit());
    let rim_end = take(letters_end, digit);
    let unit = |symbol: &str, kind| (kind, table().find_one(symbol, kind).unwrap_or_else(|| table().plain()));
    let mm = unit("mm", DimensionId::LENGTH);
    let percent = unit("%", DimensionId::RATIO);
    let inch = unit("in", DimensionId::LENGTH);
    let width = number(calc, &typed, &text, "section width", mm, (start, width_end)).ok_or_else(bad)?;
    let aspect =
        number(calc, &typed, &text, "aspect ratio", percent, (width_end + 1, aspect_end)).ok_or_else(bad)?;
    let rim = number(calc, &typed, &text, "rim diameter", inch, (letters_end, rim_end)).ok_or_else(bad)?;
    let letters = text.get(aspect_end..letters_end).unwrap_or_default();
    let radial = letters.contains(['R', 'r']);
    let rim_code = text.get(letters_end..rim_end).unwrap_or_default().to_owned();
    Ok(Size { width, aspect, rim, rim_code, radial })
}

fn number(
    calc: &mut Calc<'_>,
    typed: &Typed,
    text: &str,
    what: &str,
    unit: (DimensionId, UnitId),
    (from, to): (usize, usize),
) -> Option<Fig> {
    let value: f64 = text.get(from..to)?.parse().ok().filter(|value| *value > 0.0)?;
    let name = format!("{what} by {}", typed.name);
    Some(calc.piece(typed.piece(name, unit.1.get().to_si(value), unit, (from, to - from))))
}

/// The rim as the standard tables round it.
fn by_table(calc: &mut Calc<'_>, place: Place) -> Got {
    let size = size(calc, place)?;
    let Some((_, name, metres)) = RIMS.iter().find(|(code, ..)| *code == size.rim_code) else {
        return Err(Missing::one("a rim from 13 to 20 in for the tables"));
    };
    Ok(calc.default(name, *metres, DimensionId::LENGTH, "ISO 4000-1, rim diameters"))
}

/// 1 for a radial tyre, 0 for another.
fn radial(calc: &mut Calc<'_>, place: Place) -> Got {
    let (words, value) =
        if size(calc, place)?.radial { ("radial tyre", 1.0) } else { ("no radial tyre", 0.0) };
    Ok(calc.constant(words, value, DimensionId::RATIO, "the tyre's size code"))
}
