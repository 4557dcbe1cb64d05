//! One number with its unit, as clauses, conditions, properties and rows have them.
//!
//! Must not know quantities' places, verbs or any state.

use super::declare;
use super::entry::Item;
use super::place::Place;
use super::trouble::{Trouble, What};
use super::values::ends_values;
use crate::source::Span;
use crate::syntax::{Cursor, Shape, Word};
use crate::units::{DimensionId, Found, Number, NumberTrouble, UnitId, table};
use crate::vocabulary::QuantityId;

/// Gives a typed number its unit: from here on its values are SI.
pub fn convert(item: &mut Item, unit: UnitId) {
    item.unit = Some(unit);
    if item.has_value() {
        let unit = unit.get();
        let typed = item.si;
        item.half = unit.half_to_si(f64::from(item.half), typed) as f32;
        item.si = unit.to_si(typed);
    }
}

/// The same of a number that says by how much something was changed: of a unit with a zero of its own (a degree of temperature) the
/// size of the change alone.
pub fn convert_change(item: &mut Item, unit: UnitId) {
    let change = unit.get().difference_to_si(item.si);
    convert(item, unit);
    if item.has_value() {
        item.si = change;
    }
}

/// Reads one number word.
///
/// # Errors
/// What is wrong with it.
pub fn number(cur: &Cursor<'_>, word: Word) -> Result<Number, Trouble> {
    Number::parse(cur.str(word)).map_err(|trouble| of_number(cur.span(word), &trouble))
}

/// The number after `±`.
///
/// # Errors
/// When it is none.
pub fn tolerance(cur: &Cursor<'_>, word: Word) -> Result<f64, Trouble> {
    let digits = cur.str(word).trim_start_matches(['\u{B1}', '+', '/', '-']).trim_start();
    let stated =
        Number::parse(digits).map_err(|_| Trouble { span: cur.span(word), what: What::NumberBad })?;
    Ok(stated.value)
}

/// A number's trouble as the book's.
#[must_use]
pub fn of_number(span: Span, trouble: &NumberTrouble) -> Trouble {
    let what = match trouble {
        NumberTrouble::FractionImproper { .. } => What::FractionImproper(trouble.readings()),
        NumberTrouble::FractionOffRuler { .. } => What::FractionOffRuler,
        NumberTrouble::MinutesRange => What::AngleMinutes,
        NumberTrouble::SecondsRange => What::LapSeconds,
        NumberTrouble::DecimalComma => What::Syntax(crate::syntax::Mistake::DecimalComma),
        _ => What::NumberBad,
    };
    Trouble { span, what }
}

/// Reads `NUMBER UNIT` of a kind of dimension, as an item without a place.
///
/// # Errors
/// What is wrong with it.
pub fn one(cur: &mut Cursor<'_>, wanted: DimensionId) -> Result<Item, Trouble> {
    let Some(word) = cur.take(Shape::Number) else {
        return Err(Trouble { span: cur.here(), what: What::NumberBad });
    };
    let number = number(cur, word)?;
    let mut item = Item {
        si: number.value,
        half: number.half as f32,
        start: word.start,
        len: word.len,
        place: Place::CAR,
        unit: None,
        flags: 0,
        decimals: number.decimals,
    };
    let unit_word = cur.peek().filter(|word| word.shape == Shape::Word);
    match unit_word.map(|word| (word, table().find(cur.str(word), wanted))) {
        Some((_, Found::One(unit))) => {
            cur.bump();
            convert(&mut item, unit);
        }
        Some((word, Found::Ambiguous(units))) => {
            return Err(Trouble { span: cur.span(word), what: What::UnitAmbiguous(units) });
        }
        Some((word, Found::WrongKind(units))) if !wanted.get().bare => {
            let is = units.first().copied().unwrap_or_else(|| table().plain());
            return Err(Trouble {
                span: cur.span(word),
                what: What::UnitWrongKind { quantity: None, wanted, is },
            });
        }
        _ if wanted.get().bare => convert(&mut item, table().plain()),
        _ if number.form == crate::units::Form::DegreesMinutes => {
            convert(
                &mut item,
                table().find_one("deg", DimensionId::ANGLE).unwrap_or_else(|| table().plain()),
            );
        }
        Some((word, _)) if !goes_on(cur.str(word)) => {
            let near = crate::units::suggest(cur.str(word), wanted);
            return Err(Trouble { span: cur.span(word), what: What::UnitUnknown { wanted, near } });
        }
        _ => return Err(Trouble { span: cur.span(word), what: What::UnitUnknown { wanted, near: None } }),
    }
    Ok(item)
}

/// Whether a word after a number is the next clause or property, so that the number's unit is left out.
fn goes_on(word: &str) -> bool {
    ends_values(word) || declare::is_property(word)
}

/// The unit that a word is, for a kind of dimension.
///
/// # Errors
/// What is wrong with it.
pub fn unit_for(
    cur: &Cursor<'_>,
    word: Word,
    wanted: DimensionId,
    quantity: Option<QuantityId>,
) -> Result<UnitId, Trouble> {
    let span = cur.span(word);
    match table().find(cur.str(word), wanted) {
        Found::One(unit) => Ok(unit),
        Found::Ambiguous(units) => Err(Trouble { span, what: What::UnitAmbiguous(units) }),
        Found::WrongKind(units) => {
            let is = units.first().copied().unwrap_or_else(|| table().plain());
            Err(Trouble { span, what: What::UnitWrongKind { quantity, wanted, is } })
        }
        Found::Unknown => {
            let near = crate::units::suggest(cur.str(word), wanted);
            Err(Trouble { span, what: What::UnitUnknown { wanted, near } })
        }
    }
}
