//! Blocks that are not the reader's: of another's car, or of a car that was his once.
//!
//! What a car did after he sold it is a stranger's: its blocks go to another car without a name, so that hours of a part that
//! concerns him still count and nothing else of them is the car's that he knew. Must not know texts.

use super::Fate;
use super::scope::{Scope, is_everyones};
use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::model::{Car, CarId};
use crate::book::registers::registers;
use crate::history::order::Rank;
use crate::ids::Arena;
use std::collections::BTreeMap;

/// Empties the heads of blocks he reads nothing of, and gives those of cars that were his to strangers.
pub(super) fn heads(book: &mut Book, scope: &Scope<'_>, fates: &Arena<EntryId, Fate>) {
    let rank = |entry: EntryId| scope.rank(entry);
    let mut strangers: BTreeMap<CarId, CarId> = BTreeMap::new();
    let mut cars = std::mem::take(&mut book.cars);
    for head in &mut book.heads {
        if head.owner.is_some_and(|owner| !scope.is_self(owner)) {
            head.owner = None;
        }
        let Some(car) = head.car else { continue };
        let registers = registers(&book.entries, head);
        let own = head.first < head.end && scope.owns(car, rank(head.first)) && !registers;
        let read = fates.within(head.first..head.end);
        let compares = |entry: EntryId| book.entries.get(entry).is_some_and(is_everyones);
        let nothing = head.lines().zip(read).all(|(entry, fate)| *fate == Fate::Gone || compares(entry));
        // Of a head without a line nobody says when it is: it must be of a car that was always his.
        if own || head.first == head.end && scope.always_owns(car) {
            continue;
        }
        head.person = None;
        if nothing {
            (head.car, head.event, head.written) = (None, None, None);
        } else if scope.was_his(car, rank(head.first)) && !scope.is_away(car, rank(head.first)) {
            head.car = Some(stranger(&mut cars, &mut strangers, car));
        }
    }
    for entry in &book.entries {
        let extra = entry.extra.and_then(|extra| book.extras.get_mut(extra));
        let Some(facts) = extra.and_then(|extra| extra.parts.as_mut()) else { continue };
        let then = book.heads.get(entry.head).map_or(Rank::START, |head| rank(head.first));
        if let Some(car) = facts.car.filter(|car| scope.was_his(*car, then) && !scope.is_away(*car, then)) {
            facts.car = Some(stranger(&mut cars, &mut strangers, car));
        }
    }
    for fit in book.kinds.iter_mut().flat_map(|kind| &mut kind.fits) {
        let more: Vec<CarId> = fit.cars.iter().filter_map(|car| strangers.get(car).copied()).collect();
        fit.cars.extend(more);
    }
    book.cars = cars;
    book.index_heads();
}

/// The nameless car that stands for one that was his.
fn stranger(cars: &mut Arena<CarId, Car>, strangers: &mut BTreeMap<CarId, CarId>, car: CarId) -> CarId {
    *strangers.entry(car).or_insert_with(|| {
        let id = CarId::from(cars.len());
        if let Some(known) = cars.get(car) {
            let mut other = known.clone();
            super::declared::nameless(&mut other);
            cars.push(other);
        }
        id
    })
}
