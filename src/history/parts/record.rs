//! What is known of each part: where it was and when, what was done to it, who was in which place.
//!
//! Must not know how that is found out; that is the fold.

use crate::book::Book;
use crate::book::entry::{EntryId, Verdict};
use crate::book::model::{CarId, ClientId, KindId, PartId};
use crate::book::place::Place;
use crate::history::claim::Claim;
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::ids::Arena;
use crate::sorted;
use rustc_hash::FxHashMap;
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

/// So many kinds are asked one by one.
pub(super) const FEW: usize = 8;

/// Where a part is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Where {
    /// Declared, nothing said yet.
    New,
    /// On the shelf, fit for use.
    Shelf,
    /// On a car.
    #[serde(skip)]
    Car(CarId, Place),
    /// In an assembly.
    #[serde(skip)]
    Inside(PartId),
    /// Off, broken.
    Failed,
    /// Not to be used until looked at.
    Quarantine,
    /// Gone for good.
    Scrapped,
    /// Sold, and on no car that the shop looks after.
    Sold,
    /// Lent to somebody else.
    Lent,
    /// Gone back to whom it belongs: borrowed, or a client's own.
    Returned,
}

impl Where {
    /// Whether the shop has it no more.
    #[must_use]
    pub const fn is_gone(self) -> bool {
        matches!(self, Self::Scrapped | Self::Sold | Self::Returned)
    }
}

/// A time a part was in one place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stay {
    /// Where.
    pub at: Where,
    /// The car its path ends on, whatever it is inside of.
    pub car: Option<CarId>,
    /// First rank.
    pub from: Rank,
    /// One past its last rank; [`Rank::END`] while it lasts.
    pub until: Rank,
    /// The line that put it there.
    pub entry: EntryId,
    /// On which car it rides along, and where, without working there: a spare in the boot lies on a shelf that travels.
    pub carried: Option<(CarId, Place)>,
}

/// Work that put a part right: the rank and the line. A rebuild begins a new life.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rebuild {
    /// Rank.
    pub rank: Rank,
    /// Line.
    pub entry: EntryId,
}

/// A time a part was looked at or serviced.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Seen {
    /// Rank.
    pub rank: Rank,
    /// Line.
    pub entry: EntryId,
    /// A `service` rather than a look.
    pub service: bool,
    /// `good` or `failed`, where it says so.
    pub verdict: Option<Verdict>,
}

/// What happened to one part.
#[derive(Debug, Clone, Default)]
pub struct PartHistory {
    /// Where it was, in order, without gaps from its first line on.
    pub stays: Vec<Stay>,
    /// Lines about it, in order.
    pub lines: Vec<EntryId>,
    /// Lines about it with a mistake, which count for nothing else.
    pub mistaken: Vec<EntryId>,
    /// New lives.
    pub rebuilds: Vec<Rebuild>,
    /// Looks and services.
    pub seen: Vec<Seen>,
    /// Lines that say it failed.
    pub failures: Vec<EntryId>,
    /// What put it right after a failure without making it new: a release, another part in it for the one that broke.
    pub mends: Vec<Rebuild>,
    /// Ranks of lines with a mistake after which its place is in doubt; until another line places it.
    pub doubts: Vec<Rank>,
    /// Ranks and lines with a mistake that would have said how it is, in order: see [`crate::history::unread`].
    pub unread: Vec<(Rank, EntryId)>,
    /// Times in which it may have been on a car where the book does not have it.
    pub claims: Vec<Claim>,
    /// From which rank on it is whose, of clients it was sold to, alone or with a car; nobody's where it came back.
    pub owners: Vec<(Rank, Option<ClientId>)>,
    /// When it was sold, alone or with a car: rank and line.
    pub sold: Vec<(Rank, EntryId)>,
    /// Times it was lent or borrowed, in order.
    pub loans: Vec<super::lent::Loan>,
    /// Line that says it is broken, until a rebuild or a release.
    pub(super) broken: Option<EntryId>,
    /// What is in it now.
    pub(super) inside: Vec<PartId>,
}

impl PartHistory {
    /// The stay that began when it came off a car, as of the moment before a rank: it may have lain elsewhere since. `None`
    /// while it is on one, and before it was anywhere.
    #[must_use]
    pub fn came_off(&self, rank: Rank) -> Option<&Stay> {
        let known = sorted::until(&self.stays, |stay| stay.from < rank);
        known.iter().rev().take_while(|stay| stay.car.is_none()).last()
    }

    /// Where it is at the moment before `rank`.
    #[must_use]
    pub fn at(&self, rank: Rank) -> Option<&Stay> {
        let next = self.stays.partition_point(|stay| stay.from < rank);
        self.stays.get(next.checked_sub(1)?)
    }

    /// Whether its place was put in doubt between two ranks, both included.
    #[must_use]
    pub fn doubted(&self, from: Rank, until: Rank) -> bool {
        let first = self.doubts.partition_point(|rank| *rank < from);
        self.doubts.get(first).is_some_and(|rank| *rank <= until)
    }

    /// Whether a line with a mistake since it came to where it is at the moment before a rank may have taken it off.
    #[must_use]
    pub fn may_be_off(&self, rank: Rank) -> bool {
        self.at(rank).is_some_and(|stay| self.doubted(stay.from, rank))
    }

    /// The client it was sold to, as of the end of the book.
    #[must_use]
    pub fn owner(&self) -> Option<ClientId> {
        self.owners.last().and_then(|(_, owner)| *owner)
    }

    /// The same as of the moment before a rank.
    #[must_use]
    pub fn owner_at(&self, rank: Rank) -> Option<ClientId> {
        let next = self.owners.partition_point(|(from, _)| *from < rank);
        self.owners.get(next.checked_sub(1)?).and_then(|(_, owner)| *owner)
    }

    /// Whether it was sold by that line.
    #[must_use]
    pub fn was_sold_by(&self, entry: EntryId) -> bool {
        self.sold.iter().any(|(_, line)| *line == entry)
    }

    /// Where it is at the end of the book.
    #[must_use]
    pub fn now(&self) -> Where {
        self.stays.last().map_or(Where::New, |stay| stay.at)
    }
}

/// Who was in a place of a car, in order.
pub type Occupants = FxHashMap<(CarId, KindId, Place), Vec<(Rank, Rank, PartId)>>;

/// What happened to all parts.
#[derive(Debug, Clone, Default)]
pub struct Parts {
    /// By [`PartId`].
    pub all: Arena<PartId, PartHistory>,
    /// Who was where: (first rank, one past the last, part).
    pub occupants: Occupants,
    /// Places that ever held a part, in order of first use; for reports that list them.
    pub places: Vec<(CarId, KindId, Place)>,
    /// When each car left the book with its buyer: rank and line. A car whose blocks go on `for` its buyer has not left.
    pub sold: FxHashMap<CarId, (Rank, EntryId)>,
    /// (assembly, part): every part that was ever in an assembly, in that order.
    pub(super) guests: Vec<(PartId, PartId)>,
    /// Lines that lend, sell or move for a sum what is not the shop's: no sum of theirs is anybody's.
    pub not_ours: BTreeSet<EntryId>,
    /// Every sale of a car, in order.
    pub sales: Vec<Sale>,
    /// When each car was bought: rank and line.
    pub bought: FxHashMap<CarId, (Rank, EntryId)>,
    /// Of each car, [`Parts::places`] by kind and place.
    pub(super) places_of: BTreeMap<CarId, Vec<(KindId, Place)>>,
    /// Of each car, the parts that ever were on it, in anything, in order.
    pub(super) ever_on: FxHashMap<CarId, Vec<PartId>>,
    /// Of each place of a car, whatever was in it, by its first rank, in a book of many kinds that carry one quantity.
    pub(super) through: BTreeMap<(CarId, Place), Vec<Passing>>,
    /// Of each car, its sales as numbers of [`Parts::sales`].
    pub(super) sales_of: FxHashMap<CarId, Vec<u32>>,
}

/// A part in a place for a time.
#[derive(Debug, Clone, Copy)]
pub(super) struct Passing {
    from: Rank,
    /// One past its last rank.
    until: Rank,
    /// The latest of this and all before it.
    latest: Rank,
    kind: KindId,
}

/// A car changes hands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sale {
    /// The car.
    pub car: CarId,
    /// The moment.
    pub rank: Rank,
    /// The line.
    pub entry: EntryId,
    /// Who buys, where that is a client of the book.
    pub to: Option<ClientId>,
}

impl Parts {
    /// What is in an assembly at the moment before `rank`, in order.
    pub fn inside(&self, assembly: PartId, rank: Rank) -> impl Iterator<Item = PartId> {
        let first = self.guests.partition_point(|(of, _)| *of < assembly);
        let guests = self.guests.get(first..).unwrap_or_default().iter();
        guests.take_while(move |(of, _)| *of == assembly).map(|(_, part)| *part).filter(move |part| {
            self.get(*part).at(rank).is_some_and(|stay| stay.at == Where::Inside(assembly))
        })
    }

    /// The part of a kind in a place at the moment before `rank`.
    #[must_use]
    pub fn holder(&self, car: CarId, kind: KindId, place: Place, rank: Rank) -> Option<PartId> {
        let list = self.occupants.get(&(car, kind, place))?;
        let next = list.partition_point(|(from, ..)| *from < rank);
        let (_, until, part) = list.get(next.checked_sub(1)?)?;
        (*until >= rank).then_some(*part)
    }

    /// Works out who asks of one car finds without looking through all.
    pub(super) fn index(&mut self) {
        for (car, kind, place) in &self.places {
            self.places_of.entry(*car).or_default().push((*kind, *place));
        }
        for list in self.places_of.values_mut() {
            list.sort_unstable();
        }
        for (part, history) in (0..).map(PartId::new).zip(&self.all) {
            for car in history.stays.iter().filter_map(|stay| stay.car) {
                let list = self.ever_on.entry(car).or_default();
                if list.last() != Some(&part) {
                    list.push(part);
                }
            }
        }
    }

    /// Notes a sale; they come in order.
    pub(super) fn add_sale(&mut self, sale: Sale) {
        self.sales_of.entry(sale.car).or_default().push(self.sales.len() as u32);
        self.sales.push(sale);
    }

    /// Notes what went through each place, so that who is there need not be asked of every kind.
    pub(super) fn pass_through(&mut self) {
        // The keys in the order of first use: the same book, the same order.
        for key in &self.places {
            let (car, kind, place) = *key;
            let stays = self.occupants.get(key).map_or(&[][..], Vec::as_slice).iter();
            let passing = stays.map(|(from, until, _)| Passing {
                from: *from,
                until: *until,
                latest: Rank::START,
                kind,
            });
            self.through.entry((car, place)).or_default().extend(passing);
        }
        for list in self.through.values_mut() {
            list.sort_unstable_by_key(|one| (one.from, one.kind));
            let mut latest = Rank::START;
            for one in list {
                latest = latest.max(one.until);
                one.latest = latest;
            }
        }
    }

    /// Those of some kinds, which stand in order, that may have a part in a place at the moment before `rank`, in the same order.
    #[must_use]
    pub fn kinds_there<'a>(
        &self,
        kinds: &'a [KindId],
        car: CarId,
        place: Place,
        rank: Rank,
    ) -> Cow<'a, [KindId]> {
        if kinds.len() <= FEW || self.through.is_empty() {
            return Cow::Borrowed(kinds);
        }
        let all = self.through.get(&(car, place)).map_or(&[][..], Vec::as_slice);
        let before = sorted::until(all, |one| one.from < rank).iter().rev();
        let there = before.take_while(|one| one.latest >= rank).filter(|one| one.until >= rank);
        let mut own: Vec<KindId> =
            there.map(|one| one.kind).filter(|kind| kinds.binary_search(kind).is_ok()).collect();
        own.sort_unstable();
        own.dedup();
        Cow::Owned(own)
    }

    /// The places of a car that ever held a part, by kind and place.
    #[must_use]
    pub fn places_of(&self, car: CarId) -> &[(KindId, Place)] {
        self.places_of.get(&car).map_or(&[], Vec::as_slice)
    }

    /// The parts that ever were on a car, in a place or in what is there, in the order they are declared.
    #[must_use]
    pub fn ever_on(&self, car: CarId) -> &[PartId] {
        self.ever_on.get(&car).map_or(&[], Vec::as_slice)
    }

    /// The places of a kind on a car; the corners of an axle, if parts went there by corner.
    #[must_use]
    pub fn places_for(&self, book: &Book, car: CarId, kind: KindId) -> Vec<Place> {
        let mut list = Vec::new();
        let fits = book.kinds.get(kind).into_iter().flat_map(|kind| &kind.fits);
        let here = fits.filter(|fit| fit.on(car) && !fit.carried);
        for place in here.flat_map(|fit| &fit.places) {
            let used = |corner: &Place| corner != place && self.occupants.contains_key(&(car, kind, *corner));
            let used: Vec<Place> = place.corners().iter().copied().filter(used).collect();
            if used.is_empty() { list.push(*place) } else { list.extend(used) }
        }
        list.dedup();
        list
    }

    /// A car's sales, in order.
    pub fn sales_of(&self, car: CarId) -> impl DoubleEndedIterator<Item = &Sale> {
        let list = self.sales_of.get(&car).map_or(&[][..], Vec::as_slice);
        list.iter().filter_map(|at| self.sales.get(*at as usize))
    }

    /// Whose a car is at the moment before `rank`: the buyer of its last sale, else the client of its declaration.
    #[must_use]
    pub fn owner(&self, book: &Book, car: CarId, rank: Rank) -> Option<ClientId> {
        let sale = self.sales_of(car).rev().find(|sale| sale.rank < rank);
        match sale {
            Some(sale) => sale.to,
            None => book.cars.get(car).and_then(|car| car.client),
        }
    }

    /// Whether a session is one of the reader's own: not what is in his book for the hours of parts alone, of another's car, or of this one
    /// while it was another's. That his own car ran counts, whoever may read the line.
    #[must_use]
    pub fn is_own_running(&self, book: &Book, session: &Session, reader: Option<ClientId>) -> bool {
        let his = || reader.is_some() && self.owner(book, session.car, session.rank) == reader;
        let withheld = book.entries.get(session.entry).is_none_or(|entry| entry.withheld);
        book.cars.get(session.car).is_some_and(|car| !car.withheld) && (!withheld || his())
    }

    /// Whether a part may go on a car at the moment before `rank`: one that was sold to a client goes on his cars alone.
    #[must_use]
    pub fn may_go_on(&self, book: &Book, part: PartId, car: CarId, rank: Rank) -> bool {
        let history = self.get(part);
        match history.owner_at(rank) {
            Some(owner) => self.owner(book, car, rank) == Some(owner),
            None => history.at(rank).is_none_or(|stay| stay.at != Where::Sold),
        }
    }

    /// The part's history; ids come only from the book.
    #[must_use]
    pub fn get(&self, part: PartId) -> &PartHistory {
        &self.all[part]
    }
}
