//! Where every part is: a strict state machine over the lines about parts, at session grain, across cars.
//!
//! Must not know settings or reports.

mod assembly;
mod going;
mod lent;
pub mod loan;
mod places;
mod record;
mod sale;
mod stays;
mod sure;

use super::order::Order;
use super::problem::Problem;
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
    sessions: &'a Sessions,
    parts: Parts,
    /// Pairs of blocks whose order is unclear and was said.
    said: BTreeSet<(HeadId, HeadId)>,
    holds: FxHashMap<(CarId, KindId, Place), PartId>,
    /// What is in the places of each car, where the book sells one: what is on it goes along.
    aboard: Option<FxHashMap<CarId, BTreeSet<PartId>>>,
    /// Parts and places that a mistake has put in doubt: the next line about them is believed without another message.
    doubted: FxHashMap<PartId, HeadId>,
    doubted_places: FxHashMap<(CarId, KindId, Place), HeadId>,
    /// Whether a line put a part somewhere of which nobody can read which.
    unnamed: bool,
    /// Cars (`None` of a head without one) and places of such lines since a part was placed last.
    unnamed_since: FxHashSet<(Option<CarId>, Option<Place>)>,
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
        if about {
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
        sessions,
        said: BTreeSet::new(),
        parts: Parts { all: vec![PartHistory::default(); book.parts.len()].into(), ..Parts::default() },
        holds: FxHashMap::default(),
        aboard: book.entries.iter().any(sells_car).then(FxHashMap::default),
        doubted: FxHashMap::default(),
        doubted_places: FxHashMap::default(),
        unnamed: false,
        unnamed_since: FxHashSet::default(),
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
        // A line with a mistake has its message.
        (self.at, self.told) = ((index, entry.head), entry.broken);
        let none = PartFacts::default();
        let extra = self.book.extra(entry);
        let facts = extra.and_then(|extra| extra.parts.as_deref()).unwrap_or(&none);
        let head_car = self.book.head(entry).and_then(|head| head.car);
        // What a line about a loan does is known by its verb and its part, whatever else of it is lost.
        let loan = matches!(entry.verb, Verb::Lend | Verb::Borrow | Verb::Return) && entry.part().is_some();
        if entry.broken && !loan {
            self.mistaken(entry, index, (head_car, facts), rank);
            return;
        }
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
            self.mistaken(entry, index, (head_car, facts), rank);
            return;
        }
        if self.elsewhere(entry, index, (head_car, facts), rank) {
            return;
        }
        // A part read on the bench stays where it is.
        let VerbGroup::Part(verb) = entry.verb.group() else { return };
        let failed = facts.verdict == Some(Verdict::Failed);
        let car = facts.car.or(head_car);
        match verb {
            PartVerb::Fit if facts.instead => self.fit_instead(part, car, facts.place, index, rank),
            PartVerb::Fit => self.fit(part, car, facts.place, index, rank),
            PartVerb::Remove => {
                self.remove(part, car, facts.place, failed, index, rank);
            }
            PartVerb::Swap => self.swap(part, facts, car, index, rank),
            PartVerb::Move => self.go_on(part, facts, (car, head_car), index, rank),
            PartVerb::Build => {
                if let Some(into) = facts.other {
                    self.build(part, into, index, rank);
                }
            }
            PartVerb::Strip => self.strip(part, facts, index, rank),
            PartVerb::Rebuild => self.rebuild(part, facts.all, index, rank),
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
            PartVerb::Buy => self.buy(part, index, rank),
            PartVerb::Sell => {
                self.sell(part, facts.buyer, index, rank);
                for more in &facts.more {
                    self.parts.all[*more].lines.push(index);
                    self.sell(*more, facts.buyer, index, rank);
                }
            }
            PartVerb::Lend => self.each(part, facts, index, |fold, part| fold.lend(part, index, rank)),
            PartVerb::Borrow => self.each(part, facts, index, |fold, part| fold.borrow(part, index, rank)),
            PartVerb::Return => {
                self.each(part, facts, index, |fold, part| fold.give_back(part, failed, index, rank));
            }
            PartVerb::Failed => self.fail(part, index, rank),
        }
        if entry.broken {
            self.doubt(part, rank);
        }
    }

    /// The part of a line, and those it names besides.
    fn each(&mut self, part: PartId, facts: &PartFacts, index: EntryId, does: impl Fn(&mut Self, PartId)) {
        does(self, part);
        for more in facts.more.iter().copied() {
            self.parts.all[more].lines.push(index);
            does(self, more);
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
}
