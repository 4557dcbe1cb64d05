//! Where work on a car must have been done for all of it to be done: a line about one wheel does not do the work of four.
//!
//! Must not know what is counted between them.

use crate::book::Book;
use crate::book::entry::{Entry, EntryId};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::vocabulary::QuantityId;
use std::collections::BTreeSet;

/// The places a line is about, each once; none where it is about all there are.
pub(super) fn places(book: &Book, entry: EntryId) -> Vec<Place> {
    let Some(entry) = book.entries.get(entry) else { return Vec::new() };
    let mut places: Vec<Place> = book.items_of(entry).iter().map(|item| item.place).collect();
    let named = |entry: &Entry| {
        book.extra(entry).and_then(|extra| extra.parts.as_ref()).and_then(|facts| facts.place)
    };
    if places.is_empty() {
        places.extend(named(entry));
    }
    let mut single: Vec<Place> = Vec::new();
    for place in places {
        match place.corners() {
            [] => single.push(place),
            corners => single.extend(corners),
        }
    }
    single.sort_unstable();
    single.dedup();
    single.retain(|place| *place != Place::CAR);
    single
}

/// Where all of the work is, by what any line of it is about: the other wheel of each axle (what is read of brakes may be of one axle alone), of
/// what every wheel has all four, and every cylinder of the car.
pub(super) fn wanted(book: &Book, car: CarId, quantity: QuantityId, told: &[Place]) -> BTreeSet<Place> {
    let quantity = book.vocabulary.get(quantity);
    let on_every_wheel =
        book.vocabulary.areas.get(quantity.area as usize).is_some_and(|area| &**area == "tyres");
    let cylinders = book.cars.get(car).and_then(|car| car.cylinders).unwrap_or_default();
    let mut wanted = BTreeSet::new();
    for place in told {
        wanted.insert(*place);
        if place.is_corner() {
            let mates = if on_every_wheel { Some(Place::ALL) } else { place.axle() };
            wanted.extend(mates.into_iter().flat_map(Place::corners));
        } else if place.cylinder_number().is_some() {
            wanted.extend((1..=cylinders).map(Place::cylinder));
        }
    }
    wanted
}
