//! Which places the values of a line belong to: bare lists, axles, sides, cylinders.
//!
//! Must not know units or verbs.

use super::entry::{Flags, Item};
use super::place::Place;
use super::trouble::{Trouble, What};
use super::values::Context;
use crate::source::Span;
use crate::vocabulary::{Places, Quantity, QuantityId};

/// Values without repeats and without the further numbers of pairs.
pub fn count(items: &[Item]) -> usize {
    items.iter().filter(|item| !item.is(Flags::REPEAT | Flags::PART)).count()
}

/// Gives each value its places; a value for both corners of an axle becomes two items.
pub fn lay(items: &[Item], places: &[&[Place]], out: &mut Vec<Item>) {
    for (value, places) in Item::by_value(items).zip(places) {
        for place in *places {
            out.extend(value.iter().map(|item| Item { place: *place, ..*item }));
        }
    }
}

const CAR: &[Place] = &[Place::CAR];
const AXLES: [&[Place]; 2] = [&[Place::FRONT], &[Place::REAR]];
const AXLE_CORNERS: [&[Place]; 2] = [&[Place::LF, Place::RF], &[Place::LR, Place::RR]];
static CYLINDERS: [Place; 40] = {
    let mut all = [Place(0); 40];
    let mut n = 0;
    while let Some((place, _)) = all.split_at_mut(n).1.split_first_mut() {
        n += 1;
        *place = Place::cylinder(n as u16);
    }
    all
};
static GEARS: [Place; 20] = {
    let mut all = [Place(0); 20];
    let mut n = 0;
    while let Some((place, _)) = all.split_at_mut(n).1.split_first_mut() {
        n += 1;
        *place = Place::gear(n as u16);
    }
    all
};

/// Which places a word for a side or for all of the car means: of something of a rear axle its ends there.
#[must_use]
pub fn place_meant(quantity: &Quantity, place: Place) -> Place {
    match place {
        Place::LEFT if quantity.rear_axle => Place::LR,
        Place::RIGHT if quantity.rear_axle => Place::RR,
        Place::ALL if quantity.rear_axle => Place::REAR,
        place => place,
    }
}

/// The places of `n` values after `place`, into `out`.
pub fn spread(
    id: QuantityId,
    quantity: &Quantity,
    context: Context,
    place: Option<(Place, Span)>,
    n: usize,
    span: Span,
    out: &mut Vec<&'static [Place]>,
) -> Result<(), Trouble> {
    out.clear();
    let has = |class| quantity.places.has(class);
    let wrong = |span| Err(Trouble { span, what: What::PlaceWrong(id) });
    let too_many = |wanted| Err(Trouble { span, what: What::ValueCount { quantity: id, got: n, wanted } });
    let alone = || vec!["1 (a comma and a blank before a repeat)".to_owned()];
    let Some((place, at)) = place.map(|(place, at)| (place_meant(quantity, place), at)) else {
        if has(Places::CAR) && n == 1 {
            return fill(out, [CAR]);
        }
        if quantity.rear_axle {
            return match n {
                1 => Err(Trouble { span, what: What::PlaceMissing(id) }),
                2 => fill(out, Place::REAR.corners().iter().map(|corner| corner.corners())),
                _ => too_many(vec!["2 (LR RR)".to_owned()]),
            };
        }
        if has(Places::CORNER) && n == 4 {
            return fill(out, Place::CORNERS.iter().map(|corner| corner.corners()));
        }
        if has(Places::AXLE) && n == 2 {
            return fill(out, AXLES);
        }
        if has(Places::CORNER) && n == 2 {
            return fill(out, AXLE_CORNERS);
        }
        if has(Places::CYLINDER)
            && context.cylinders.is_none_or(|cylinders| usize::from(cylinders) == n)
            && (n > 1 || context.cylinders.is_some())
            && n <= CYLINDERS.len()
        {
            return fill(out, CYLINDERS.iter().take(n).map(std::slice::from_ref));
        }
        if has(Places::GEAR) && n > 1 && n <= GEARS.len() {
            return fill(out, GEARS.iter().take(n).map(std::slice::from_ref));
        }
        if n == 1 {
            return Err(Trouble { span, what: What::PlaceMissing(id) });
        }
        return too_many(wanted(quantity, context));
    };
    if has(Places::CORNER) && place.is_corner() || has(Places::AXLE) && place.is_axle() && n == 1 {
        let one: &'static [Place] = match place {
            Place::FRONT => AXLES[0],
            Place::REAR => AXLES[1],
            corner => corner.corners(),
        };
        return if n == 1 { fill(out, [one]) } else { too_many(alone()) };
    }
    if has(Places::CORNER) && !place.corners().is_empty() {
        let corners = place.corners();
        return match n {
            1 => fill(out, [corners]),
            2 if corners.len() == 2 => fill(out, corners.iter().map(|corner| corner.corners())),
            4 if place == Place::ALL => fill(out, Place::CORNERS.iter().map(|corner| corner.corners())),
            _ => too_many(["1", "2"].map(str::to_owned).to_vec()),
        };
    }
    if has(Places::AXLE) && place == Place::ALL && n == 1 {
        return fill(out, [&[Place::FRONT, Place::REAR][..]]);
    }
    if has(Places::AXLE) && (place.is_axle() || place == Place::ALL) {
        return too_many(alone());
    }
    let numbered = match (place.cylinder_number(), place.gear_number()) {
        (Some(n), _) if has(Places::CYLINDER) => CYLINDERS.get(usize::from(n) - 1),
        (_, Some(n)) if has(Places::GEAR) => GEARS.get(usize::from(n) - 1),
        _ => None,
    };
    match numbered {
        Some(place) if n == 1 => fill(out, [std::slice::from_ref(place)]),
        Some(_) => too_many(alone()),
        None => wrong(at),
    }
}

#[allow(clippy::unnecessary_wraps)] // every arm above ends in it
fn fill(
    out: &mut Vec<&'static [Place]>,
    places: impl IntoIterator<Item = &'static [Place]>,
) -> Result<(), Trouble> {
    out.extend(places);
    Ok(())
}

/// How many values may stand without a place, in words.
fn wanted(quantity: &Quantity, context: Context) -> Vec<String> {
    let mut ways = Vec::new();
    if quantity.places.has(Places::CORNER) {
        ways.push("4 (LF RF LR RR)".to_owned());
    }
    if quantity.places.has(Places::CORNER) || quantity.places.has(Places::AXLE) {
        ways.push("2 (front, rear)".to_owned());
    }
    if quantity.places.has(Places::CYLINDER) {
        ways.push(
            context.cylinders.map_or("one for each cylinder".to_owned(), |n| format!("{n} (the cylinders)")),
        );
    }
    if quantity.places.has(Places::CAR) {
        ways.push("1".to_owned());
    }
    ways
}
