//! What makes a reading stale: changes of a quantity that disturbs it, parts that bring one, and impacts. A change of which nobody
//! knows by how much (its line has a mistake, or is not for this reader) is one.
//!
//! Must not know reports.

use super::alike;
use super::order::Order;
use super::parts::{Parts, Where};
use super::slots::{Owner, Register, SlotEvent, Slots, Track};
use crate::book::Book;
use crate::book::entry::{Entry, EntryId, Verb};
use crate::book::model::{CarId, Clock, Kind};
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::ids::Arena;
use crate::sorted;
use crate::source::Files;
use crate::units::DimensionId;
use crate::vocabulary::{Places, QuantityId};
use rustc_hash::FxHashSet;

/// One change on a car.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Disturbance {
    /// When.
    pub rank: Rank,
    /// The line.
    pub entry: EntryId,
    /// What changed; `None` for an impact.
    pub quantity: Option<QuantityId>,
    /// Where.
    pub place: Place,
    /// Whether a part was fitted that has its own: what was read of the one before is no longer what is there.
    pub brought: bool,
}

impl Disturbance {
    /// Whether it brings another of what was read of that quantity.
    pub(super) fn brings(&self, quantity: QuantityId) -> bool {
        self.brought && self.quantity == Some(quantity)
    }
}

/// All changes of each car, in order.
#[derive(Debug, Clone, Default)]
pub struct Disturbances {
    of_car: Arena<CarId, Vec<Disturbance>>,
    /// The impacts among them: few, and asked for a part at a time.
    hits: Arena<CarId, Vec<Disturbance>>,
    /// What parts bring with them and a car keeps no setting of.
    carried: FxHashSet<QuantityId>,
}

/// Collects them.
#[must_use]
pub fn disturbances(book: &Book, files: &Files, order: &Order, parts: &Parts, slots: &Slots) -> Disturbances {
    let mut of_car: Arena<CarId, Vec<Disturbance>> = vec![Vec::new(); book.cars.len()].into();
    // Only quantities that disturb something are worth keeping.
    let mut wanted = FxHashSet::default();
    for (_, quantity) in book.vocabulary.iter() {
        wanted.extend(quantity.disturbed_by.iter().copied());
    }
    if book.vocabulary.iter().any(|(_, quantity)| quantity.disturbed_by_anything) {
        wanted.extend(book.vocabulary.iter().map(|(id, _)| id));
    }
    for track in slots.tracks.iter().filter(|track| wanted.contains(&track.quantity)) {
        // What nobody knows any more is not what was set after it.
        let mut before: Option<&SlotEvent> = None;
        for event in &track.events {
            let changes = match event.register() {
                Register::Asked => !before.is_some_and(|before| same(book, files, track, [before, event])),
                Register::Read => false,
                // It was turned, and nobody knows by how much; of a line that cannot be read `lost` has the places.
                Register::Unknown => event.line(book).is_some_and(|line| !line.broken && turns(line)),
            };
            if changes
                && let Some(entry) = event.entry
                && let Some((car, place)) = on_car(book, track, event)
            {
                of_car[car].push(turned(order, entry, (track.quantity, place)));
            }
            before = (event.register() != Register::Unknown).then_some(event);
        }
    }
    for lost in slots.lost.iter().filter(|lost| wanted.contains(&lost.quantity)) {
        let Owner::Car(car) = lost.owner else { continue };
        for entry in &lost.lines {
            let Some(line) = book.entries.get(*entry).filter(|line| turns(line)) else { continue };
            let items = book.items_of(line);
            let anywhere = items.is_empty().then_some(Place::CAR);
            let places = items.iter().map(|item| item.place).chain(anywhere);
            of_car[car].extend(places.map(|place| turned(order, *entry, (lost.quantity, place))));
        }
    }
    let mut carried = FxHashSet::default();
    let fresh: Vec<QuantityId> =
        OF_TYRE.iter().chain(&OF_NUTS).filter_map(|name| book.vocabulary.find(name)).collect();
    if book.kinds.iter().any(|kind| of_a_wheel(book, kind)) {
        carried.extend(fresh.iter().copied());
    }
    for (part, history) in parts.all.iter_enumerated() {
        let Some(kind) = book.parts[part].kind.and_then(|kind| book.kinds.get(kind)) else { continue };
        // A setting `of part` has a track of its own for each part.
        let own =
            |quantity: QuantityId| kind.carries.contains(&quantity) && !book.vocabulary.get(quantity).of_part;
        let brings: Vec<(QuantityId, bool)> = kind
            .gives
            .iter()
            .chain(&kind.carries)
            .map(|quantity| (*quantity, own(*quantity)))
            .filter(|(quantity, own)| *own || wanted.contains(quantity))
            .collect();
        carried.extend(brings.iter().filter(|(_, own)| *own).map(|(quantity, _)| *quantity));
        let wheel = of_a_wheel(book, kind);
        if brings.is_empty() && !wheel {
            continue;
        }
        for (at, stay) in history.stays.iter().enumerate() {
            if let Where::Car(car, place) = stay.at {
                let fresh = fresh.iter().filter(|quantity| wheel && !kind.carries.contains(quantity));
                of_car[car].extend(fresh.map(|quantity| Disturbance {
                    rank: stay.from,
                    entry: stay.entry,
                    quantity: Some(*quantity),
                    place,
                    brought: true,
                }));
                // Taken off, or perhaps taken off by a line that cannot be read, it gives nothing any more.
                let off = history.stays.get(at + 1).map(|next| (next.from, next.entry));
                let doubts = sorted::from(&history.doubts, |rank| *rank < stay.from).iter();
                let doubts = doubts
                    .take_while(|rank| **rank <= stay.until)
                    .filter_map(|rank| Some((*rank, *order.entries.get(*rank)?)));
                for (rank, entry) in off.into_iter().chain(doubts) {
                    let gives = kind.gives.iter().filter(|quantity| wanted.contains(quantity));
                    of_car[car].extend(gives.map(|quantity| Disturbance {
                        rank,
                        entry,
                        quantity: Some(*quantity),
                        place,
                        brought: false,
                    }));
                }
                let list = &mut of_car[car];
                list.extend(brings.iter().map(|(quantity, own)| Disturbance {
                    rank: stay.from,
                    entry: stay.entry,
                    quantity: Some(*quantity),
                    place,
                    brought: *own,
                }));
            }
        }
    }
    for (index, entry) in book.entries.iter_enumerated() {
        if entry.verb != Verb::Hit {
            continue;
        }
        let typed = book.extra(entry).and_then(|extra| extra.parts.as_ref()).and_then(|facts| facts.place);
        // Of a line with a mistake it is known that the car was hit, and not where: it may have been anywhere.
        let Some(place) = (if entry.broken { Some(Place::CAR) } else { typed }) else { continue };
        let rank = order.rank[index];
        let hit = Disturbance { rank, entry: index, quantity: None, place, brought: false };
        // Under a head that names no car that there is it may have been any that it may mean.
        for car in book.may_be_of(entry.head) {
            of_car[car].push(hit);
        }
    }
    for list in &mut of_car {
        list.sort_unstable();
        list.dedup();
    }
    let hit = |change: &&Disturbance| change.quantity.is_none();
    let hits = of_car.iter().map(|list| list.iter().filter(hit).copied().collect()).collect();
    Disturbances { of_car, hits, carried }
}

/// Whether a line turns what it is about, by however much: one with a mistake, or that its reader may not read, as well.
fn turns(line: &Entry) -> bool {
    matches!(line.verb, Verb::Set | Verb::Adjust | Verb::Fill) && !line.void
}

fn turned(order: &Order, entry: EntryId, (quantity, place): (QuantityId, Place)) -> Disturbance {
    Disturbance { rank: order.rank[entry], entry, quantity: Some(quantity), place, brought: false }
}

/// On which car a value was set, and where on it: what a part carries is set on the car that it is on.
fn on_car(book: &Book, track: &Track, event: &SlotEvent) -> Option<(CarId, Place)> {
    match track.owner {
        Owner::Car(car) => Some((car, track.place)),
        Owner::Part(_) => {
            let car = book.head(event.line(book)?)?.car?;
            Some((car, book.items.get(event.item())?.place))
        }
    }
}

/// What is read of a tyre: of the one that was there, and of no other.
const OF_TYRE: [&str; 6] =
    ["tyre-cold", "tyre-hot", "tyre-temp", "tread", "tyre-hardness", "tyre-circumference"];

/// What is read of the nuts that hold a wheel, likewise.
const OF_NUTS: [&str; 2] = ["wheel-torque", "hub-torque"];

/// Whether parts of a kind carry one of these, or are called one of those words.
fn carries_or_called(book: &Book, kind: &Kind, names: &[&str], called: &[&str]) -> bool {
    let carries = |quantity: &QuantityId| names.contains(&&*book.vocabulary.get(*quantity).name);
    let named = |word: &&str| kind.named.typed.to_lowercase().split(['-', '.']).any(|part| part == *word);
    kind.carries.iter().any(carries) || called.iter().any(named)
}

/// Whether parts of a kind are tyres: they age in heat cycles, as tyres alone do, carry what is read of one, or are called so.
#[must_use]
pub fn is_tyre(book: &Book, kind: &Kind) -> bool {
    let cycles = kind.life.iter().any(|life| life.clock == Clock::HeatCycles);
    cycles || carries_or_called(book, kind, &OF_TYRE, &["tyre", "tyres"])
}

/// Whether parts of a kind come on and off with a wheel.
#[must_use]
pub fn of_a_wheel(book: &Book, kind: &Kind) -> bool {
    is_tyre(book, kind) || carries_or_called(book, kind, &OF_NUTS, &["wheel", "wheels"])
}

/// Whether a slot was set to what it was: the same words, both off, or the same number.
fn same(book: &Book, files: &Files, track: &Track, [before, now]: [&SlotEvent; 2]) -> bool {
    let typed = |event: &SlotEvent| track.item(book, event).zip(track.file(book, event));
    typed(before)
        .zip(typed(now))
        .is_some_and(|(was, is)| alike::words(files, was, is).unwrap_or((before.value - now.value) == 0.0))
}

impl Disturbances {
    /// Whether parts bring what was read of a quantity along.
    pub(super) fn brings(&self, quantity: QuantityId) -> bool {
        self.carried.contains(&quantity)
    }

    /// The changes that disturb what was read of a quantity at a place, after one rank and before another. Whoever asks whether a
    /// reading still holds asks [`super::likeness`], which knows how it was read.
    pub(super) fn after<'a>(
        &'a self,
        book: &'a Book,
        car: CarId,
        (quantity, place): (QuantityId, Place),
        [read, until]: [Rank; 2],
    ) -> impl Iterator<Item = Disturbance> + 'a {
        let what = book.vocabulary.get(quantity);
        let never = !what.is_disturbed() && !what.disturbed_by_hit && !self.carried.contains(&quantity);
        let list = self.of_car.get(car).filter(|_| !never).map_or(&[][..], Vec::as_slice);
        // What is read of the whole car, and the load on each wheel, feels a change anywhere.
        let anywhere = what.dimension == DimensionId::WEIGHT || what.places.has(Places::CAR);
        let from = list.partition_point(|change| change.rank <= read);
        let later = list.get(from..).unwrap_or_default().iter();
        later.take_while(move |change| change.rank < until).copied().filter(move |change| {
            let matters = match change.quantity {
                Some(by) => what.feels(by) || change.brings(quantity),
                None => what.disturbed_by_hit,
            };
            matters && (anywhere || change.place.touches(place))
        })
    }

    /// The impacts on a car between two ranks.
    pub fn hits(&self, car: CarId, from: Rank, until: Rank) -> impl Iterator<Item = Disturbance> {
        let list = self.hits.get(car).map_or(&[][..], Vec::as_slice);
        let first = list.partition_point(|change| change.rank < from);
        list.iter().skip(first).take_while(move |change| change.rank < until).copied()
    }
}
