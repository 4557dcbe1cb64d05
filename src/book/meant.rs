//! Which cars a head may be about that names none that there is: those whose name stands on it, and those whose name is near what does; any of
//! them where none is.
//!
//! Must not know what its lines say.

use super::clause::HEAD_CLAUSES;
use super::entry::{Head, HeadId};
use super::model::CarId;
use super::names::{Names, Thing};
use crate::ids::Arena;
use crate::source::Files;
use rustc_hash::FxHashMap;

/// The cars of each such head that some word of it tells; a head that tells none is not there.
pub(super) fn of_heads(
    heads: &Arena<HeadId, Head>,
    names: &Names,
    files: &Files,
) -> FxHashMap<HeadId, Vec<CarId>> {
    let lost = heads.iter_enumerated().filter(|(_, head)| head.car.is_none() && head.car_unknown);
    let told = lost.map(|(id, head)| (id, of_text(names, files.text(head.span))));
    told.filter(|(_, cars)| !cars.is_empty()).collect()
}

fn of_text(names: &Names, text: &str) -> Vec<CarId> {
    let car = |thing: Thing| if let Thing::Car(car) = thing { Some(car) } else { None };
    let mut cars = Vec::new();
    let mut before_clauses = true;
    // What stands in quotes names nothing.
    let outside = text.split(['"', '“', '”']).step_by(2);
    for word in outside.flat_map(|part| part.split([' ', '\t', ','])).filter(|word| !word.is_empty()) {
        before_clauses &= !HEAD_CLAUSES.iter().any(|clause| word.eq_ignore_ascii_case(clause));
        cars.extend(names.find(word).and_then(car));
        if before_clauses && word.starts_with(char::is_alphabetic) {
            cars.extend(names.all_near(word, |thing| car(thing).is_some()).into_iter().filter_map(car));
        }
    }
    cars.sort_unstable();
    cars.dedup();
    cars
}
