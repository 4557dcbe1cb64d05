//! The places that a line of values with a mistake can have meant: those it names, where every other word of its values can be no
//! place. `set camber LF -3,2 deg` says nothing of the other corners; `set camber FL -3.2 deg` may be about any.
//!
//! Must not know what the mistake was, nor what the line does.

use super::context::Context;
use super::ends::ends_values;
use super::entry::{Flags, Item};
use super::names::{Names, Thing, near_any};
use super::place::Place;
use super::spread::spread;
use super::values::takes_place;
use crate::syntax::{Cursor, Shape, Word};
use crate::units::{DimensionId, table};
use crate::vocabulary::{Quantity, QuantityId};

/// One item without a value for each place, from the first word of the values on; nothing where the line may be about others too.
#[must_use]
pub fn touched(
    cur: &Cursor<'_>,
    names: &Names,
    (id, quantity): (QuantityId, &Quantity),
    context: Context,
) -> Vec<Item> {
    let mut items: Vec<Item> = Vec::new();
    let mut places = Vec::new();
    let mut ahead = 0;
    while let Some(word) = cur.peek_at(ahead) {
        let text = cur.str(word);
        if word.shape == Shape::Because || word.shape == Shape::Word && ends_values(text) {
            break;
        }
        // A place that the car does not have was meant to be another one.
        if word.shape == Shape::Word && names.place(text).is_some_and(|place| context.beyond(place).is_some())
        {
            return Vec::new();
        }
        let place = names.place(text).filter(|_| word.shape == Shape::Word && takes_place(quantity, text));
        let known = match place {
            Some(place) => {
                let laid = spread(
                    id,
                    quantity,
                    context,
                    Some((place, cur.span(word))),
                    1,
                    cur.span(word),
                    &mut places,
                );
                let before = items.len();
                for place in places.iter().copied().flatten().filter(|_| laid.is_ok()) {
                    items.push(Item { place: *place, ..unknown(word) });
                }
                let (before, new) = items.split_at(before);
                // A place named twice was meant to be another one.
                laid.is_ok() && !new.iter().any(|item| before.iter().any(|other| other.place == item.place))
            }
            // What comes before the first place may be for all.
            None => !items.is_empty() && is_no_place(cur, ahead, names, quantity),
        };
        if !known {
            return Vec::new();
        }
        ahead += 1;
    }
    items
}

/// The words of a car's own places.
const PLACES: [&str; 12] =
    ["lf", "rf", "lr", "rr", "fl", "fr", "rl", "front", "rear", "left", "right", "all"];

/// Whether a word can be no place that was typed wrong: a number, a sign, a unit, or what stands where the unit does.
fn is_no_place(cur: &Cursor<'_>, ahead: usize, names: &Names, quantity: &Quantity) -> bool {
    let Some(word) = cur.peek_at(ahead) else { return false };
    let text = cur.str(word);
    match word.shape {
        Shape::Number
        | Shape::Ratio
        | Shape::Tolerance
        | Shape::Dash
        | Shape::Unknown
        | Shape::Comma
        | Shape::Arrow
        | Shape::Range => true,
        Shape::Word if is_unit(text, quantity.dimension) => true,
        Shape::Word => {
            let after_number =
                ahead.checked_sub(1).and_then(|before| cur.peek_at(before)).is_some_and(|before| {
                    matches!(before.shape, Shape::Number | Shape::Ratio | Shape::Tolerance)
                });
            let last = cur.peek_at(ahead + 1).is_none_or(|next| {
                next.shape == Shape::Because || next.shape == Shape::Word && ends_values(cur.str(next))
            });
            let declared = names.near_any(text, |thing| matches!(thing, Thing::Position(_)));
            after_number && last && declared.or_else(|| near_any(text, PLACES.into_iter())).is_none()
        }
        Shape::Odd | Shape::Code => {
            let number = text.starts_with(|first: char| first.is_ascii_digit() || "+-.,".contains(first));
            let mut words =
                text.split(|letter: char| !letter.is_alphabetic()).filter(|word| !word.is_empty());
            number && words.all(|word| is_unit(word, quantity.dimension))
        }
        Shape::Because | Shape::Date | Shape::Clock | Shape::Lap | Shape::Text => false,
    }
}

fn is_unit(text: &str, dimension: DimensionId) -> bool {
    table().find_one(text, dimension).is_some()
        || ["each", "total", "off"].iter().any(|known| text.eq_ignore_ascii_case(known))
}

fn unknown(word: Word) -> Item {
    Item {
        si: 0.0,
        half: 0.0,
        start: word.start,
        len: word.len,
        place: Place::CAR,
        unit: None,
        flags: Flags::UNKNOWN,
        decimals: 0,
    }
}
