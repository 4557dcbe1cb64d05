//! Where every part is: a strict state machine over the lines about parts, at session grain, across cars.
//!
//! Must not know settings or reports.

mod assembly;
pub mod loan;
mod places;
mod record;
mod sale;

use super::order::Order;
use super::problem::{Problem, Sold};
use super::sessions::Sessions;
use crate::book::Book;
use crate::book::entry::{Entry, EntryId, HeadId, PartFacts, Verb, Verdict};
use crate::book::model::{CarId, ClientId, KindId, PartId};
use crate::book::place::Place;
use crate::book::verbs::{PartVerb, VerbGroup};
use crate::history::order::Rank;
pub use loan::Loan;
pub use record::{Occupants, PartHistory, Parts, Rebuild, Sale, Seen, Stay, Where};
use rustc_hash::{FxHashMap, FxHashSet};
use std::collections::BTreeSet;

struct Fold<'a> {
    book: &'a Book,
    order: &'a Order,
    parts: Parts,
    /// Pairs of blocks whose order is unclear and was said.
    said: BTreeSet<(HeadId, HeadId)>,
    holds: FxHashMap<(CarId, KindId, Place), PartId>,
    /// What is in the places of each car, where the book sells one: what is on it goes along.
    aboard: Option<FxHashMap<CarId, BTreeSet<PartId>>>,
    /// Parts and places that a mistake has put in doubt: the next line about them is believed without another message.
    doubted: FxHashMap<PartId, HeadId>,
    doubted_places: FxHashMap<(CarId, KindId, Place), HeadId>,
    /// The line at hand, its block, and whether a mistake in it was told.
    at: (EntryId, HeadId),
    told: bool,
    /// Clients that the shop looks after a bought car for.
    cared: FxHashSet<ClientId>,
    /// Whose parts the line at hand may take: the client its car belongs to.
    by: Option<ClientId>,
    /// Whether the book says of any part that it is a client's own.
    has_owned: bool,
    problems: &'a mut Vec<Problem>,
}

/// Folds the lines about parts.
pub fn parts(book: &Book, order: &Order, sessions: &Sessions, problems: &mut Vec<Problem>) -> Parts {
    let mut lines: Vec<(Rank, EntryId)> = Vec::new();
    for (index, entry) in book.entries.iter_enumerated() {
        let about = matches!(entry.verb.group(), VerbGroup::Part(_) | VerbGroup::Bench);
        if about && !entry.broken {
            // `after s6` counts from the end of s6, wherever the line stands.
            let named = sessions
                .named
                .get(&index)
                .filter(|_| book.extra(entry).is_some_and(|extra| extra.after.is_some()));
            let rank = named.map_or(order.rank[index], |id| sessions.get(*id).after);
            lines.push((rank, index));
        }
    }
    lines.sort_unstable();
    let mut fold = Fold {
        book,
        order,
        said: BTreeSet::new(),
        parts: Parts { all: vec![PartHistory::default(); book.parts.len()].into(), ..Parts::default() },
        holds: FxHashMap::default(),
        aboard: book.entries.iter().any(sells_car).then(FxHashMap::default),
        doubted: FxHashMap::default(),
        doubted_places: FxHashMap::default(),
        at: (EntryId::new(0), HeadId::new(0)),
        told: false,
        cared: book.heads.iter().filter_map(|head| head.owner).collect(),
        by: None,
        has_owned: book.parts.iter().any(|part| part.owner.is_some()),
        problems,
    };
    for (part, declared) in book.parts.iter_enumerated().filter(|(_, declared)| declared.owner.is_some()) {
        fold.parts.all[part].owners.push((Rank::START, declared.owner));
    }
    for (rank, index) in lines {
        fold.line(&book.entries[index], index, rank);
    }
    let mut parts = fold.parts;
    let stays =
        parts.all.iter_enumerated().flat_map(|(at, part)| part.stays.iter().map(move |stay| (at, stay)));
    let guests = stays.filter_map(|(at, stay)| match stay.at {
        Where::Inside(assembly) => Some((assembly, at)),
        _ => None,
    });
    parts.guests = guests.collect();
    parts.guests.sort_unstable();
    parts.guests.dedup();
    parts.index();
    if many_carry(book) {
        parts.pass_through();
    }
    parts
}

/// Whether more than a few kinds carry or give one quantity.
fn many_carry(book: &Book) -> bool {
    let mut count: FxHashMap<crate::vocabulary::QuantityId, usize> = FxHashMap::default();
    book.kinds.iter().flat_map(|kind| kind.carries.iter().chain(&kind.gives)).any(|quantity| {
        let kinds = count.entry(*quantity).or_default();
        *kinds += 1;
        *kinds > record::FEW
    })
}

/// Whether a line can be the sale of a car.
fn sells_car(entry: &Entry) -> bool {
    entry.verb == Verb::Sell && entry.part().is_none()
}

impl Fold<'_> {
    fn line(&mut self, entry: &Entry, index: EntryId, rank: Rank) {
        (self.at, self.told) = ((index, entry.head), false);
        let none = PartFacts::default();
        let extra = self.book.extra(entry);
        let facts = extra.and_then(|extra| extra.parts.as_deref()).unwrap_or(&none);
        let head_car = self.book.head(entry).and_then(|head| head.car);
        if entry.part().is_none() && matches!(entry.verb, Verb::Sell | Verb::Buy) {
            match facts.car {
                Some(car) if entry.verb == Verb::Sell => self.sell_car(car, facts, index, rank),
                Some(car) => {
                    self.parts.bought.entry(car).or_insert((rank, index));
                }
                None => {}
            }
            return;
        }
        let Some(part) = entry.part() else { return };
        self.by = self.takes_for(part, facts.car.or(head_car), facts.other, rank);
        self.parts.all[part].lines.push(index);
        if let Some(kind) = facts.kind
            && self.kind(part) != Some(kind)
        {
            self.tell(index, Problem::KindDiffers { entry: index, part, kind });
            return;
        }
        // A part read on the bench stays where it is.
        let VerbGroup::Part(verb) = entry.verb.group() else { return };
        let failed = facts.verdict == Some(Verdict::Failed);
        match verb {
            PartVerb::Fit if facts.instead => {
                self.fit_instead(part, facts.car.or(head_car), facts.place, index, rank);
            }
            PartVerb::Fit => self.fit(part, facts.car.or(head_car), facts.place, index, rank),
            PartVerb::Remove => {
                self.remove(part, facts.car.or(head_car), facts.place, failed, index, rank);
            }
            PartVerb::Swap => {
                let Some(on) = facts.other else { return };
                self.parts.all[on].lines.push(index);
                let place = match self.state(part) {
                    Where::Car(_, place) => facts.place.or(Some(place)),
                    _ => facts.place,
                };
                let car = facts.car.or(head_car);
                if self.remove(part, car, facts.place, failed, index, rank) {
                    self.fit(on, car, place, index, rank);
                } else {
                    // The line names the wrong part to come off, or the wrong place; whoever is there makes way.
                    self.make_way(on, car, place, index, rank);
                    self.fit(on, car, place, index, rank);
                    self.doubt(on, rank);
                }
            }
            PartVerb::Move => {
                match self.state(part) {
                    Where::Scrapped | Where::Sold | Where::Lent | Where::Returned => {
                        if !self.usable(part, index) {
                            return;
                        }
                    }
                    // What fitting it says of these is enough.
                    Where::Quarantine | Where::Failed => {}
                    Where::Car(on, _) if head_car.is_none_or(|car| car == on) => {
                        self.leave(part, index, rank, self.rest(part));
                    }
                    // It goes where the crew says it is now, wherever it came from.
                    there => {
                        self.not_there(part, head_car, None, index, rank);
                        if matches!(there, Where::Car(..) | Where::Inside(_)) {
                            self.leave(part, index, rank, self.rest(part));
                        }
                    }
                }
                self.fit(part, facts.car.or(head_car), facts.place, index, rank);
            }
            PartVerb::Build => {
                if let Some(into) = facts.other {
                    self.build(part, into, index, rank);
                }
            }
            PartVerb::Strip => {
                if let Some(from) = facts.other {
                    // Where it is not, it comes off wherever it was, if a mistake before leaves that open.
                    let comes_out = self.state(part) == Where::Inside(from)
                        || self.not_there(part, None, None, index, rank)
                            && matches!(self.state(part), Where::Car(..) | Where::Inside(_));
                    if comes_out {
                        let to = self.off(part, failed, index);
                        self.leave(part, index, rank, to);
                    }
                }
            }
            PartVerb::Rebuild => {
                let mut all = vec![part];
                let mut at = 0;
                while facts.all && at < all.len() {
                    all.extend(self.parts.all[all[at]].inside.iter().copied());
                    at += 1;
                }
                for part in all {
                    let history = &mut self.parts.all[part];
                    history.rebuilds.push(Rebuild { rank, entry: index });
                    history.broken = None;
                    if history.now() == Where::Failed {
                        self.leave(part, index, rank, self.rest(part));
                    }
                }
            }
            PartVerb::Inspect | PartVerb::Service => {
                let service = verb == PartVerb::Service;
                let seen = Seen { rank, entry: index, service, verdict: facts.verdict };
                self.parts.all[part].seen.push(seen);
            }
            PartVerb::Shelve => self.put(part, self.rest(part), index, rank),
            PartVerb::Quarantine => self.put_off(part, Where::Quarantine, index, rank),
            PartVerb::Release => {
                if self.state(part) == Where::Quarantine {
                    self.mended(part, index, rank);
                    self.leave(part, index, rank, self.rest(part));
                } else {
                    self.tell(index, Problem::NotQuarantined { entry: index, part });
                }
            }
            PartVerb::Scrap => self.put_off(part, Where::Scrapped, index, rank),
            PartVerb::Buy => self.bought(part, index, rank),
            PartVerb::Sell => {
                self.sell(part, facts.buyer, index, rank);
                for more in &facts.more {
                    self.parts.all[*more].lines.push(index);
                    self.sell(*more, facts.buyer, index, rank);
                }
            }
            PartVerb::Lend | PartVerb::Borrow | PartVerb::Return => {
                for part in std::iter::once(part).chain(facts.more.iter().copied()) {
                    if Some(part) != entry.part() {
                        self.parts.all[part].lines.push(index);
                    }
                    match verb {
                        PartVerb::Lend => self.lend(part, index, rank),
                        PartVerb::Borrow => self.borrow(part, index, rank),
                        _ => self.give_back(part, failed, index, rank),
                    }
                }
            }
            PartVerb::Failed => {
                let history = &mut self.parts.all[part];
                history.failures.push(index);
                history.broken = Some(index);
                let there = history.now();
                if !(there.is_gone() || matches!(there, Where::Car(..) | Where::Inside(_) | Where::Lent)) {
                    self.leave(part, index, rank, Where::Failed);
                }
            }
        }
    }

    fn kind(&self, part: PartId) -> Option<KindId> {
        self.book.parts.get(part)?.kind
    }

    fn state(&self, part: PartId) -> Where {
        self.parts.all[part].now()
    }

    fn since(&self, part: PartId) -> Option<EntryId> {
        self.parts.all[part].stays.last().map(|stay| stay.entry)
    }

    /// Ends the part's stay and begins another; everything inside goes along.
    fn leave(&mut self, part: PartId, entry: EntryId, rank: Rank, to: Where) {
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

    fn begin(&mut self, part: PartId, at: Where, car: Option<CarId>, entry: EntryId, rank: Rank) {
        if let Some(before) = self.since(part) {
            self.unclear(before, entry);
        }
        let stays = &mut self.parts.all[part].stays;
        if let Some(last) = stays.last_mut() {
            last.until = rank.max(last.from);
        }
        stays.push(Stay { at, car, from: rank, until: Rank::END, entry });
    }

    /// Two blocks in different files move one part on one day, and neither times nor `after` decide: said once a pair.
    fn unclear(&mut self, before: EntryId, entry: EntryId) {
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

    /// Whether the part may go to work: in quarantine, failed, gone.
    fn usable(&mut self, part: PartId, entry: EntryId) -> bool {
        let since = self.since(part).unwrap_or(entry);
        match self.state(part) {
            Where::Sold | Where::Returned if self.is_taken_by_its_owner(part) => {}
            there @ (Where::Lent | Where::Returned) => {
                self.tell(entry, Problem::PartAway { entry, part, since, lent: there == Where::Lent });
                return false;
            }
            Where::Scrapped | Where::Sold => {
                let sold = self.state(part) == Where::Sold;
                self.tell(entry, Problem::RetiredPartFitted { entry, part, since, sold });
                return false;
            }
            Where::Quarantine => {
                self.tell(entry, Problem::QuarantinedPartFitted { entry, part, since });
                return true;
            }
            _ => {}
        }
        if let Some(since) = self.parts.all[part].broken {
            self.tell(entry, Problem::FailedPartBack { entry, part, since });
            self.parts.all[part].broken = None;
        }
        true
    }

    fn fit(&mut self, part: PartId, car: Option<CarId>, place: Option<Place>, entry: EntryId, rank: Rank) {
        let (Some(car), Some(kind)) = (car, self.kind(part)) else { return };
        match self.state(part) {
            Where::Car(..) | Where::Inside(_) if self.doubted.contains_key(&part) => {
                self.leave(part, entry, rank, self.rest(part));
            }
            there @ (Where::Car(..) | Where::Inside(_)) => {
                let since = self.since(part).unwrap_or(entry);
                self.tell(entry, Problem::PartInTwoPlaces { entry, part, there, since });
                self.doubt(part, rank);
                self.doubt_place(car, kind, place);
                return;
            }
            _ => {
                if !self.usable(part, entry) {
                    self.doubt_place(car, kind, place);
                    return;
                }
            }
        }
        if let Some(own) = self.anothers_own(part) {
            self.tell(entry, Problem::NotOurs { entry, part: own, since: None });
        }
        let place = match self.place_for(kind, car, place) {
            Ok(place) => place,
            Err(fits) => {
                self.tell(
                    entry,
                    if fits {
                        Problem::PlaceNeeded { entry, part }
                    } else {
                        Problem::DoesNotFit { entry, part, car, place }
                    },
                );
                return;
            }
        };
        if let Some(holds) = self.holds.get(&(car, kind, place)).copied() {
            if !self.doubted.contains_key(&holds) {
                let since = self.since(holds).unwrap_or(entry);
                self.tell(entry, Problem::PlaceOccupied { entry, holds, since });
            }
            // The new part is what the crew says is there now; the other's place is not known any more, nor whether this is the place.
            self.leave(holds, entry, rank, self.rest(holds));
            self.doubt(holds, rank);
            self.leave(part, entry, rank, Where::Car(car, place));
            self.doubt(part, rank);
            return;
        }
        self.leave(part, entry, rank, Where::Car(car, place));
    }

    /// Takes a part off; `false` if it was not there.
    fn remove(
        &mut self,
        part: PartId,
        car: Option<CarId>,
        place: Option<Place>,
        failed: bool,
        entry: EntryId,
        rank: Rank,
    ) -> bool {
        match self.state(part) {
            Where::Car(on, at)
                if car.is_none_or(|car| car == on) && place.is_none_or(|place| place == at) => {}
            Where::Scrapped | Where::Sold | Where::Lent | Where::Returned
                if !self.is_taken_by_its_owner(part) =>
            {
                if !self.doubted.contains_key(&part) {
                    self.usable(part, entry);
                }
                return false;
            }
            there => {
                let believed = self.not_there(part, car, place, entry, rank);
                if believed && matches!(there, Where::Car(..) | Where::Inside(_)) {
                    self.leave(part, entry, rank, if failed { Where::Failed } else { self.rest(part) });
                }
                return false;
            }
        }
        let to = self.off(part, failed, entry);
        self.leave(part, entry, rank, to);
        true
    }

    /// Where a part goes that comes off a car or out of an assembly: a line that takes it off as failed says so of it.
    fn off(&mut self, part: PartId, failed: bool, entry: EntryId) -> Where {
        let history = &mut self.parts.all[part];
        if failed && history.broken.is_none() {
            history.broken = Some(entry);
            history.failures.push(entry);
        }
        if history.broken.is_some() { Where::Failed } else { self.rest(part) }
    }

    /// Puts a part that must be off the car already.
    fn put(&mut self, part: PartId, to: Where, entry: EntryId, rank: Rank) {
        match self.state(part) {
            Where::Car(..) | Where::Inside(_) => {
                let since = self.since(part).unwrap_or(entry);
                self.tell(entry, Problem::StillFitted { entry, part, since });
                self.leave(part, entry, rank, to);
            }
            // It lies where its owner's parts lie.
            Where::Sold if to == Where::Sold && self.is_taken_by_its_owner(part) => {}
            Where::Scrapped | Where::Sold | Where::Lent | Where::Returned => {
                self.usable(part, entry);
            }
            Where::Quarantine if to == self.rest(part) => {
                let since = self.since(part).unwrap_or(entry);
                self.tell(entry, Problem::QuarantinedPartFitted { entry, part, since });
            }
            // A failed part may lie on a shelf; it stays failed.
            Where::Failed if to == self.rest(part) => {}
            _ => self.leave(part, entry, rank, to),
        }
    }

    /// Quarantines or scraps a part; it comes off by that line if it was on.
    fn put_off(&mut self, part: PartId, to: Where, entry: EntryId, rank: Rank) {
        // What was lent may be lost or broken for good where it is.
        let lost = to == Where::Scrapped && self.state(part) == Where::Lent;
        let gone = self.state(part).is_gone() || self.state(part) == Where::Lent;
        if lost || !gone || self.usable(part, entry) {
            self.leave(part, entry, rank, to);
            if lost {
                self.end_loan(part, entry, rank);
            }
        }
    }
}
