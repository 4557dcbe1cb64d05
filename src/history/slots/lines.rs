//! Which lines touch whose slots.
//!
//! Must not know what a line says.

use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::{CarId, KindId, PartId};
use crate::history::order::Order;
use crate::ids::Arena;
use crate::vocabulary::QuantityId;
use rustc_hash::FxHashMap;

/// Lines about settings and readings, sorted out for [`slots`].
#[derive(Debug)]
pub struct Lines {
    pub(super) carriers: FxHashMap<QuantityId, Vec<KindId>>,
    /// Of each car, in order; last those that touch what parts carry or give, of all cars together, since parts move.
    pub(super) of_car: Arena<CarId, Vec<EntryId>>,
    /// Bench lines of each part, in order.
    pub(super) benches: FxHashMap<PartId, Vec<EntryId>>,
    /// Readings whose values stand on lines under them, in order.
    pub(super) structured: Vec<EntryId>,
}

/// Sorts out which lines touch whose slots.
#[must_use]
pub fn lines(book: &Book, order: &Order) -> Lines {
    let mut carriers: FxHashMap<QuantityId, Vec<KindId>> = FxHashMap::default();
    for (index, kind) in book.kinds.iter_enumerated() {
        for quantity in kind.carries.iter().chain(&kind.gives) {
            let list = carriers.entry(*quantity).or_default();
            if list.last() != Some(&index) {
                list.push(index);
            }
        }
    }
    let mut of_car: Arena<CarId, Vec<EntryId>> = vec![Vec::new(); book.cars.len()].into();
    let mut shared: Vec<EntryId> = Vec::new();
    let mut benches: FxHashMap<PartId, Vec<EntryId>> = FxHashMap::default();
    let mut structured: Vec<EntryId> = Vec::new();
    for index in &order.entries {
        let entry = &book.entries[*index];
        let Some(quantity) = entry.quantity else { continue };
        if entry.verb == Verb::Bench {
            if let Some(part) = entry.part() {
                benches.entry(part).or_default().push(*index);
            }
            shared.push(*index);
            continue;
        }
        if entry.item_count == 0 && entry.verb.is_reading() {
            structured.push(*index);
        }
        if carriers.contains_key(&quantity) {
            shared.push(*index);
        } else if let Some(car) = book.head(entry).and_then(|head| head.car) {
            of_car[car].push(*index);
        } else {
            for car in book.may_be_of(entry.head) {
                of_car[car].push(*index);
            }
        }
    }
    of_car.push(shared);
    Lines { carriers, of_car, benches, structured }
}
