//! A line about settings or readings, value by value; a line with an error, and what it leaves unknown.
//!
//! Must not know how a value changes its slot.

use super::{Fold, Owner, Register, SlotEvent, Value};
use crate::book::entry::{Entry, EntryId, Flags, Item, ItemId};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::book::verbs::VerbGroup;
use crate::history::problem::Problem;
use crate::vocabulary::QuantityId;

impl Fold<'_> {
    pub(super) fn line(&mut self, index: EntryId) {
        let entry = &self.book.entries[index];
        let Some(quantity) = entry.quantity else { return };
        if entry.void {
            return;
        }
        let verb = match entry.verb.group() {
            VerbGroup::Setting(verb) => verb,
            VerbGroup::Bench => {
                self.bench(index, entry, quantity);
                return;
            }
            VerbGroup::Correct => {
                // What it corrects is right where it was typed; what a mistake in it would have corrected is not known.
                if entry.broken
                    && let Some(car) = self.book.head(entry).and_then(|head| head.car)
                {
                    self.unknown(index, car, quantity);
                }
                return;
            }
            // Their lines have no quantity of their own.
            VerbGroup::Row(_)
            | VerbGroup::Compare
            | VerbGroup::Part(_)
            | VerbGroup::Hit
            | VerbGroup::Run
            | VerbGroup::Stretch(_)
            | VerbGroup::Laps
            | VerbGroup::Result
            | VerbGroup::Words
            | VerbGroup::Try
            | VerbGroup::Waive
            | VerbGroup::Void
            | VerbGroup::Job(_)
            | VerbGroup::Cost
            | VerbGroup::Stock(_)
            | VerbGroup::Handed
            | VerbGroup::Note => return,
        };
        let Some(car) = self.book.head(entry).and_then(|head| head.car) else {
            if self.book.head(entry).is_some_and(|head| head.car_unknown) {
                self.of_any_car(index, quantity);
            }
            return;
        };
        if entry.broken {
            self.unknown(index, car, quantity);
            return;
        }
        let rank = self.order.rank[index];
        let first = entry.items;
        let items = self.book.items_of(entry);
        let mut given = false;
        let mut next = 0;
        for typed in Item::by_value(items) {
            let at = next;
            next += typed.len();
            let Some(item) = typed.first() else { continue };
            // An old value's new one follows later for the same place; compared there.
            if item.is(Flags::OLD | Flags::NOT_READ) {
                continue;
            }
            let old = items
                .iter()
                .take(at)
                .position(|old| old.is(Flags::OLD) && old.place == item.place && !old.is(Flags::PART));
            if let Some(part) = self.carrying().giver(car, quantity, item.place, rank) {
                // One message a line; its other places are what it says.
                if !given {
                    self.problems.push(Problem::RateFromPart { entry: index, item: first.plus(at), part });
                }
                given = true;
                continue;
            }
            let (owner, place) = self.carrying().slot(car, quantity, item.place, rank);
            let track = self.track(owner, quantity, place);
            let value =
                Value { verb, at: first.plus(at), old: old.map(|old| first.plus(old)), mean: mean(typed) };
            match self.counting(track, index, entry, owner, value.at) {
                Some(counting) => self.event(track, index, &value, counting),
                None => self.push(track, SlotEvent::new(0.0, Some(index), value.at, Register::Unknown)),
            }
        }
    }

    pub(super) fn bench(&mut self, index: EntryId, entry: &Entry, quantity: QuantityId) {
        let Some(part) = entry.part() else { return };
        if entry.broken {
            self.lose(index, quantity, &[Owner::Part(part)]);
            return;
        }
        let items = self.book.items_of(entry);
        if let Some(item) = items.first().filter(|item| item.has_value()) {
            let value = mean(items).unwrap_or(item.si);
            let track = self.track(Owner::Part(part), quantity, Place::CAR);
            self.push(track, SlotEvent::new(value, Some(index), entry.items, Register::Read));
        }
    }

    /// A line under a head whose car nobody can read: it may be of any that the head may mean.
    fn of_any_car(&mut self, index: EntryId, quantity: QuantityId) {
        let head = self.book.entries[index].head;
        let all = || self.book.may_be_of(head);
        for car in self.of.map_or_else(all, |car| vec![car]) {
            self.unknown(index, car, quantity);
        }
    }

    /// An error in a line: what it would have touched is not known; where its places are sure, that is they and what holds or is
    /// in them, else the quantity everywhere on the car.
    pub(super) fn unknown(&mut self, index: EntryId, car: CarId, quantity: QuantityId) {
        let rank = self.order.rank[index];
        let items = self.book.items_of(&self.book.entries[index]);
        let mut owners: Vec<Owner> = if items.is_empty() {
            self.carrying().carried_on(car, quantity, rank).into_iter().map(Owner::Part).collect()
        } else {
            items.iter().map(|item| self.carrying().owner(car, quantity, item.place, rank)).collect()
        };
        owners.push(Owner::Car(car));
        owners.sort_unstable();
        owners.dedup();
        self.lose(index, quantity, &owners);
    }

    pub(super) fn lose(&mut self, index: EntryId, quantity: QuantityId, owners: &[Owner]) {
        for owner in owners {
            // One first seen later is unknown too.
            self.lost.entry((*owner, quantity)).or_default().push(index);
        }
        for id in self.tracks.keys() {
            let track = &self.tracks[id];
            let hit = track.quantity == quantity && owners.contains(&track.owner);
            if hit && super::may_touch(self.book, index, track.place) {
                self.push(id, SlotEvent::new(0.0, Some(index), ItemId::new(0), Register::Unknown));
            }
        }
    }
}

/// The mean of a value and its repeats; `None` where it is no number.
fn mean(items: &[Item]) -> Option<f64> {
    let mut values =
        items.iter().filter(|item| item.has_value() && !item.is(Flags::PART)).map(|item| item.si);
    // The first is taken off, so that large equal digits do not cost small ones (NIST StRD NumAcc4).
    let first = values.next()?;
    let (mut sum, mut n) = (0.0, 1.0);
    for value in values {
        sum += value - first;
        n += 1.0;
    }
    Some(first + sum / n)
}
