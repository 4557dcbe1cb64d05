//! One stay after another: a part leaves where it is and is somewhere else, and everything inside it goes along.
//!
//! Must not know which verb moved it, nor whether it may go there.

use super::{Fold, Stay, Where};
use crate::book::entry::EntryId;
use crate::book::model::{CarId, PartId};
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::problem::Problem;

impl Fold<'_> {
    /// Ends the part's stay and begins another; everything inside goes along.
    pub(super) fn leave(&mut self, part: PartId, entry: EntryId, rank: Rank, to: Where) {
        self.settle(part);
        if let (Where::Car(car, place), Some(kind)) = (self.state(part), self.kind(part)) {
            self.holds.remove(&(car, kind, place));
            if let Some((_, until, _)) =
                self.parts.occupants.get_mut(&(car, kind, place)).and_then(|list| list.last_mut())
            {
                *until = rank;
            }
        }
        let there = self.state(part);
        if let (Where::Car(car, _), Some(aboard)) = (there, &mut self.aboard)
            && let Some(there) = aboard.get_mut(&car)
        {
            there.remove(&part);
        }
        if let (Where::Car(car, _), Some(aboard)) = (to, &mut self.aboard) {
            aboard.entry(car).or_default().insert(part);
        }
        if let Where::Inside(assembly) = self.state(part) {
            self.parts.all[assembly].inside.retain(|inner| *inner != part);
            self.came_out(part, entry, rank);
        }
        let car = match to {
            Where::Car(car, _) => Some(car),
            Where::Inside(assembly) => self.parts.all[assembly].stays.last().and_then(|stay| stay.car),
            _ => None,
        };
        self.begin(part, to, car, entry, rank);
        // The car changes for everything inside; a loop, not a recursion: assemblies may be ten thousand deep.
        let mut inside = self.parts.all[part].inside.clone();
        while let Some(inner) = inside.pop() {
            let stay = self.parts.all[inner].stays.last().copied();
            if let Some(stay) = stay.filter(|stay| stay.car != car) {
                self.begin(inner, stay.at, car, entry, rank);
                inside.extend(self.parts.all[inner].inside.iter().copied());
            }
        }
        if let (Where::Car(car, place), Some(kind)) = (to, self.kind(part)) {
            self.holds.insert((car, kind, place), part);
            self.settle_place((car, kind, place));
            let key = (car, kind, place);
            let list = self.parts.occupants.entry(key).or_default();
            if list.is_empty() {
                self.parts.places.push(key);
            }
            list.push((rank, Rank::END, part));
        }
        if let Where::Inside(assembly) = to {
            self.parts.all[assembly].inside.push(part);
        }
    }

    /// Puts a part where it rides along: it is as on the shelf, and the shelf is in that car.
    pub(super) fn carry(&mut self, part: PartId, entry: EntryId, rank: Rank, to: (CarId, Place)) {
        self.leave(part, entry, rank, self.rest(part));
        if let Some(stay) = self.parts.all[part].stays.last_mut() {
            stay.carried = Some(to);
        }
    }

    /// Where a part rides along now.
    pub(super) fn carried(&self, part: PartId) -> Option<(CarId, Place)> {
        self.parts.all[part].stays.last()?.carried
    }

    pub(super) fn begin(&mut self, part: PartId, at: Where, car: Option<CarId>, entry: EntryId, rank: Rank) {
        if let Some(before) = self.since(part) {
            self.unclear(before, entry);
        }
        self.unnamed_since.clear();
        let stays = &mut self.parts.all[part].stays;
        if let Some(last) = stays.last_mut() {
            last.until = rank.max(last.from);
        }
        stays.push(Stay { at, car, from: rank, until: Rank::END, entry, carried: None });
    }

    /// Two blocks in different files move one part on one day, and neither times nor `after` decide: said once a pair.
    pub(super) fn unclear(&mut self, before: EntryId, entry: EntryId) {
        let book = self.book;
        let after = |index: EntryId| {
            let entry = &book.entries[index];
            book.extra(entry).is_some_and(|extra| extra.after.is_some())
        };
        if after(before) || after(entry) || !self.order.unclear(book, before, entry) {
            return;
        }
        let (a, b) = (book.entries[before].head, book.entries[entry].head);
        if self.said.insert((a.min(b), a.max(b))) {
            self.tell(entry, Problem::OrderUnclear { first: before, second: entry });
        }
    }
}
