//! Alignment as its lines say it: where toe is measured, the rows of a sweep, drift since it was left.
//!
//! Toe-in is positive; caster is positive with the top rearward. Must not know springs or weights.

use super::calc::{Calc, Fig, Got, Missing};
use super::code::Code;
use super::drift;
use super::springs::corner;
use crate::book::entry::{EntryId, Item};
use crate::book::place::Place;
use crate::units::DimensionId;

/// What the program works out.
pub const FIGURES: &[Code] = &[
    ("toe-measured-over", over),
    ("caster-sweep-angle", |calc, place| sweep(calc, "caster", place, 0)),
    ("caster-sweep-inner", |calc, place| sweep(calc, "caster", place, 1)),
    ("caster-sweep-outer", |calc, place| sweep(calc, "caster", place, 2)),
    ("sai-sweep-angle", |calc, place| sweep(calc, "sai", place, 0)),
    ("sai-sweep-inner", |calc, place| sweep(calc, "sai", place, 1)),
    ("sai-sweep-outer", |calc, place| sweep(calc, "sai", place, 2)),
    ("camber-drift", |calc, place| drift::widths(calc, "camber", place)),
    ("toe-drift", |calc, place| drift::widths(calc, "toe", place)),
    ("caster-drift", |calc, place| drift::widths(calc, "caster", place)),
    ("ride-height-drift", |calc, place| drift::widths(calc, "ride-height", place)),
];

/// Where the toe of a wheel or an axle is measured.
fn over(calc: &mut Calc<'_>, place: Place) -> Got {
    let own = calc.value("toe", place);
    let other = if place.is_corner() {
        let axle = if place == Place::LF || place == Place::RF { Place::FRONT } else { Place::REAR };
        calc.value("toe", axle)
    } else {
        let left = place.corners().first().copied().unwrap_or(place);
        calc.value("toe", left)
    };
    match (own, other) {
        (Ok(toe), _) | (Err(_), Ok(toe)) => diameter(calc, &toe),
        (Err(missing), Err(_)) => Err(missing),
    }
}

/// Where toe is measured: what the line says (`over`), else the car's own.
fn diameter(calc: &mut Calc<'_>, toe: &Fig) -> Got {
    let entry = calc.nodes.get(toe.node).and_then(|node| node.entry);
    let line = entry.and_then(|entry| calc.book.entries.get(entry));
    let over = line.and_then(|line| calc.book.extra(line)).and_then(|extra| extra.over);
    let car = calc.declared();
    let (value, source) = match (over, car.and_then(|car| car.toe_over)) {
        (Some(over), _) => (over, "stated on the toe's line (`over`)"),
        (None, Some(over)) => (over, "the car's toe-over"),
        (None, None) => {
            return Err(Missing::one(
                "where toe is measured: `over 400 mm` on the line, or the car's toe-over",
            ));
        }
    };
    if value <= 0.0 {
        return Err(Missing::one("a diameter above nothing where toe is measured"));
    }
    Ok(calc.constant("where toe is measured", value, DimensionId::LENGTH, source))
}

/// The last sweep of a corner before the moment.
fn sweep(calc: &mut Calc<'_>, name: &str, place: Place, which: usize) -> Got {
    corner(place)?;
    let like = if name == "sai" { "pitch-in 3.9 pitch-out -4.4" } else { "inner 1.5 outer -2.0" };
    let id = calc.quantity(name)?;
    let at = calc.book.place_word(place);
    let here = |calc: &Calc<'_>, row: EntryId| {
        let entry = &calc.book.entries[row];
        entry.broken || calc.book.items_of(entry).first().is_some_and(|item| item.place == place)
    };
    let rows = calc.rows(id);
    let Some((row, broken)) = rows.into_iter().find(|(row, _)| here(calc, *row)) else {
        return Err(Missing::one(format!(
            "a sweep of {at} under {name}, such as `sweep {at} 20 deg {like}`"
        )));
    };
    if broken {
        return Err(Missing::one(format!("the sweep of {at} under {name} put right (it has an error)")));
    }
    let items: Vec<Item> = calc.book.items_of(&calc.book.entries[row]).to_vec();
    let [steer, inner, outer] = items.as_slice() else {
        return Err(Missing::one(format!("a sweep of {at} with its angle and two readings")));
    };
    if steer.si <= 0.0 {
        return Err(Missing::one(format!("a sweep of {at} by more than nothing: it tells no {name} at 0")));
    }
    let (words, item) = match (name, which) {
        (_, 0) => ("steering angle each way", steer),
        ("sai", 1) => ("pitch as inner wheel", inner),
        ("sai", _) => ("pitch as outer wheel", outer),
        (_, 1) => ("camber as inner wheel", inner),
        _ => ("camber as outer wheel", outer),
    };
    Ok(calc.item_by(words.to_owned(), row, item, DimensionId::ANGLE, which > 0))
}
