//! Units and ranges after a property of a quantity or a figure.
//!
//! Must not know which of the two it is.

use crate::book::single::of_number;
use crate::book::trouble::{RangeTrouble, Trouble, What};
use crate::source::Span;
use crate::syntax::{Cursor, Shape, Word};
use crate::units::{DimensionId, Found, Number, UnitId, table};

/// There are more quantities than a line of the book has numbers for.
pub(super) fn full(span: Span) -> Trouble {
    Trouble { span, what: What::Full("65,535 quantities and figures in this book") }
}

/// The units after `show`: for a metric car, and after a comma for an imperial one.
pub(super) fn show(cur: &mut Cursor<'_>, dimension: DimensionId) -> Result<[Option<UnitId>; 2], Trouble> {
    let metric = unit_of(cur, dimension)?;
    let imperial = if cur.take_comma() && !cur.is_done() { unit_of(cur, dimension)? } else { metric };
    Ok([Some(metric), Some(imperial)])
}

pub(super) fn unit_of(cur: &mut Cursor<'_>, dimension: DimensionId) -> Result<UnitId, Trouble> {
    let span = cur.here();
    // A unit such as `32nds` starts with a digit, so the words that are stuck together are one.
    let mut text = String::new();
    while let Some(word) = cur.peek().filter(|word| word.shape != Shape::Comma) {
        if !text.is_empty() && !cur.is_stuck(0) {
            break;
        }
        text.push_str(cur.str(word));
        cur.bump();
    }
    match table().find(&text, dimension) {
        Found::One(unit) => Ok(unit),
        Found::Ambiguous(units) => Err(Trouble { span, what: What::UnitAmbiguous(units) }),
        Found::WrongKind(units) => {
            let is = units.first().copied().unwrap_or_else(|| table().plain());
            Err(Trouble { span, what: What::UnitWrongKind { quantity: None, wanted: dimension, is } })
        }
        Found::Unknown => {
            let near = crate::units::suggest(&text, dimension);
            Err(Trouble { span, what: What::UnitUnknown { wanted: dimension, near } })
        }
    }
}

/// Reads `-5..0.5 deg`, SI, low to high, and its unit. The words that may follow it are no unit.
pub(super) fn range(
    cur: &mut Cursor<'_>,
    dimension: DimensionId,
    (property, wants, after): (&'static str, &'static str, &[&str]),
) -> Result<(f64, f64, UnitId), Trouble> {
    let wrong =
        |cur: &Cursor<'_>| Trouble { span: cur.here(), what: What::PropertyValue { property, wants } };
    let Some(word) = cur.take(Shape::Range) else { return Err(wrong(cur)) };
    let (from, to) = ends(cur, word)?;
    let is_unit = cur.peek().is_some_and(|word| {
        !matches!(word.shape, Shape::Text | Shape::Comma)
            && !after.iter().any(|name| cur.str(word).eq_ignore_ascii_case(name))
    });
    let unit = if is_unit {
        let span = cur.here();
        let unit = unit_of(cur, dimension)?;
        // Toe over no length is no angle, and a quantity is of every car.
        if dimension == DimensionId::TOE && unit.get().dim == DimensionId::LENGTH.get().dim {
            let what = What::ToeUnderspecified { direction: false, share: false, over: true };
            return Err(Trouble { span, what });
        }
        unit
    } else if dimension.get().bare {
        table().plain()
    } else {
        return Err(wrong(cur));
    };
    let (a, b) = (unit.get().to_si(from), unit.get().to_si(to));
    // The finer a thread, the more of it goes to the inch.
    Ok((a.min(b), a.max(b), unit))
}

/// The two ends of `A..B`, as typed, the lower first.
pub(super) fn ends(cur: &Cursor<'_>, word: Word) -> Result<(f64, f64), Trouble> {
    let (text, span) = (cur.str(word), cur.span(word));
    let (from, to) = text.split_once("..").unwrap_or((text, ""));
    let end = |text: &str| Number::parse(text).map_err(|trouble| of_number(span, &trouble));
    let (from, to) = (end(from)?.value, end(to)?.value);
    if from < to { Ok((from, to)) } else { Err(Trouble { span, what: What::Range(RangeTrouble::Backward) }) }
}
