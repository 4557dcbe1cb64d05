//! Words that mean something already, and numbers with their units in the lines of a figure.
//!
//! Must not know the figure.

use crate::book::declare::words::is_reserved;
use crate::book::figure::{Function, Sort, unit_of_literal};
use crate::book::trouble::{FigureTrouble, Trouble, What};
use crate::syntax::{Cursor, Shape};
use crate::units::number::Number;
use crate::units::{DimensionId, Found, UnitId, table};

/// Words that mean something in a figure's lines, beside the names of its properties.
const WORDS: [&str; 25] = [
    "else",
    "above",
    "within",
    "beside",
    "read",
    "set",
    "typed",
    "with",
    "session",
    "first",
    "second",
    "third",
    "of",
    "pi",
    "result",
    "figure",
    "axle",
    "other-axle",
    "across",
    "next",
    "each-corner",
    "each-driven",
    "each-cylinder",
    "zero",
    "needs",
];

/// Properties that stand on the head line or alone, where no name of a formula is looked for: `area` may be one.
pub(super) const OF_THE_HEAD: [&str; 3] = ["area", "show", "in-code"];

/// Whether a word means something that a quantity, a figure or a local name would be taken for.
pub(in crate::book::declare) fn is_taken(word: &str) -> bool {
    is_reserved(word) || Function::find(word).is_some() || is_word(word)
}

/// A number and its unit, as `0.745 kg/L`: SI, the unit, and what it is worth in points of the scale of temperature. Where the kind
/// is known already the unit is one of that kind, if it can be.
pub(super) fn number(
    cur: &mut Cursor<'_>,
    wanted: Option<DimensionId>,
) -> Result<(f64, UnitId, Option<f64>), Trouble> {
    let what = || What::PropertyValue {
        property: "a name's value",
        wants: "a number with its unit, such as 9.80665 m/s2",
    };
    let whole = cur.take(Shape::Number);
    // `1 1/2 in`, `1/8 in`: a fraction of a ruler, as in a reading.
    let part = cur.take(Shape::Ratio);
    let word = part.or(whole).ok_or_else(|| Trouble { span: cur.here(), what: what() })?;
    let typed = [whole, part].into_iter().flatten().map(|word| cur.str(word).replace('\u{2212}', "-"));
    let typed = typed.collect::<Vec<_>>().join(" ");
    let value = typed.parse::<f64>().ok().or_else(|| Some(Number::parse(&typed).ok()?.value));
    let value = value.ok_or_else(|| Trouble { span: cur.span(word), what: what() })?;
    let is_unit = cur
        .peek()
        .is_some_and(|word| word.shape == Shape::Word && !is_word(&cur.str(word).to_ascii_lowercase()));
    let (unit, points) = if is_unit {
        let span = cur.here();
        let typed = cur.peek().map_or("", |word| cur.str(word));
        cur.bump();
        let of_kind = wanted.and_then(|kind| match table().find(typed, kind) {
            Found::One(unit) => Some((unit, Sort::points_of(unit.get().kind))),
            _ => None,
        });
        let said = |clash| Trouble { span, what: What::Figure(FigureTrouble::Clash(clash)) };
        of_kind.map_or_else(|| unit_of_literal(typed).map_err(|odd| said(odd.at(span))), Ok)?
    } else {
        (table().plain(), Some(0.0))
    };
    let si = unit.get().to_si(value);
    if si.is_finite() { Ok((si, unit, points)) } else { Err(Trouble { span: cur.span(word), what: what() }) }
}

/// Whether a word, in small letters, means something in a figure's lines.
fn is_word(word: &str) -> bool {
    WORDS.contains(&word)
        || !OF_THE_HEAD.contains(&word) && crate::book::declare::words::is_name_of("figure", word)
}
