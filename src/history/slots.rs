//! Slots: every quantity at every place of a car (or of a part that carries it), with its two registers over time.
//!
//! *Asked* is what `set` and `adjust` said, *read* what a gauge said. Must not know reports.

mod carrying;
mod change;
mod counting;
pub mod event;
mod line;
mod lines;

pub use carrying::{Carrying, Owner};
pub use event::{Register, SlotEvent};
pub use lines::{Lines, lines};

use super::order::Order;
use super::parts::Parts;
use super::problem::Problem;
use super::sessions::Sessions;
use crate::book::Book;
use crate::book::entry::{EntryId, Flags, HeadId, Item, ItemId};
use crate::book::model::{CarId, KindId, PartId};
use crate::book::place::Place;
use crate::book::verbs::SettingVerb;
use crate::ids::{Arena, ids};
use crate::sorted;
use crate::source::{FileId, Files};
use crate::vocabulary::QuantityId;
use rayon::prelude::*;
use rustc_hash::FxHashMap;

/// A slot over time.
#[derive(Debug, Clone)]
pub struct Track {
    /// Whose.
    pub owner: Owner,
    /// Of which quantity.
    pub quantity: QuantityId,
    /// Where. Of a part's own: [`Place::CAR`] for the whole part, a corner for what was read of a set there.
    pub place: Place,
    /// Its values in order; of clicks all from one end.
    pub events: Vec<SlotEvent>,
    /// Of clicks, the end that its values count from: true for full hard.
    pub from_hard: Option<bool>,
}

impl Track {
    /// Where on the car it is while its part is in a place; nowhere, where the part is not what it was read of (a set that came off
    /// the front and is at the rear).
    #[must_use]
    pub fn place_on(&self, there: Place) -> Option<Place> {
        if self.place == Place::CAR {
            Some(there)
        } else {
            carrying::wider(self.place).contains(&there).then_some(self.place)
        }
    }
}

impl Track {
    /// What was typed for one of its values; `None` where an error made it unknown.
    #[must_use]
    pub fn item<'a>(&self, book: &'a Book, event: &SlotEvent) -> Option<&'a Item> {
        if event.register() == Register::Unknown {
            return None;
        }
        if event.entry.is_some() {
            return book.items.get(event.item());
        }
        let Owner::Car(car) = self.owner else { return None };
        book.cars.get(car)?.opening_of(self.quantity).nth(event.item().index())
    }

    /// The further numbers of one of its values, where it is a pair or a triple.
    #[must_use]
    pub fn further<'a>(&self, book: &'a Book, event: &SlotEvent) -> Vec<&'a Item> {
        if self.item(book, event).is_none_or(|item| !item.has_value()) {
            return Vec::new();
        }
        if event.entry.is_some() {
            return book.further(event.item()).collect();
        }
        let Owner::Car(car) = self.owner else { return Vec::new() };
        let opening = book.cars.get(car).into_iter().flat_map(|car| car.opening_of(self.quantity));
        opening.skip(event.item().index() + 1).take_while(|item| item.is_further()).collect()
    }

    /// The file that one of its values is typed in: its line's, or that of the declaration it opens with.
    #[must_use]
    pub fn file(&self, book: &Book, event: &SlotEvent) -> Option<FileId> {
        if let Some(line) = event.line(book) {
            return Some(line.file);
        }
        match self.owner {
            Owner::Car(car) => book.cars.get(car).map(|car| car.named.declared.file),
            Owner::Part(part) => book.parts.get(part).map(|part| part.named.declared.file),
        }
    }

    /// Its values that stand on lines, each with its line: all but what the car is declared with.
    #[must_use]
    pub fn lines(&self) -> impl DoubleEndedIterator<Item = (EntryId, &SlotEvent)> + Clone {
        self.events.iter().filter_map(|event| Some((event.entry?, event)))
    }
}

/// A quantity of which lines with an error made every place unknown, whether it had a value there by then or not.
#[derive(Debug, Clone)]
pub struct Lost {
    /// Whose.
    pub owner: Owner,
    /// Of which quantity.
    pub quantity: QuantityId,
    /// The lines, in order.
    pub lines: Vec<EntryId>,
}

/// All slots.
#[derive(Debug, Clone, Default)]
pub struct Slots {
    /// In order of owner, quantity, place.
    pub tracks: Vec<Track>,
    /// In order of owner and quantity.
    pub lost: Vec<Lost>,
    index: FxHashMap<(Owner, QuantityId, Place), usize>,
    /// Kinds that carry or give a quantity.
    pub carriers: FxHashMap<QuantityId, Vec<KindId>>,
    /// The bench lines of each part, in order.
    pub benches: FxHashMap<PartId, Vec<EntryId>>,
    /// Readings whose values stand on lines under them (`sweep`, `lift`), in order.
    pub structured: Vec<EntryId>,
}

impl Slots {
    /// Which parts bring which quantities along.
    #[must_use]
    pub const fn carrying<'a>(&'a self, book: &'a Book, parts: &'a Parts) -> Carrying<'a> {
        Carrying { carriers: &self.carriers, book, parts }
    }

    /// The lines about a quantity with a mistake, in order; whether one is about a place says [`may_touch`].
    #[must_use]
    pub fn lost_of(&self, owner: Owner, quantity: QuantityId) -> &[EntryId] {
        let found = self.lost.binary_search_by_key(&(owner, quantity), |lost| (lost.owner, lost.quantity));
        found.ok().and_then(|at| self.lost.get(at)).map_or(&[], |lost| lost.lines.as_slice())
    }

    /// Those of them that may have been about a place.
    pub fn lost_at(
        &self,
        book: &Book,
        owner: Owner,
        quantity: QuantityId,
        place: Place,
    ) -> impl Iterator<Item = EntryId> {
        self.lost_of(owner, quantity).iter().copied().filter(move |line| may_touch(book, *line, place))
    }

    /// A slot's track.
    #[must_use]
    pub fn find(&self, owner: Owner, quantity: QuantityId, place: Place) -> Option<&Track> {
        let index = *self.index.get(&(owner, quantity, place))?;
        self.tracks.get(index)
    }

    /// An owner's tracks of a quantity, in order of place.
    #[must_use]
    pub fn of_quantity(&self, owner: Owner, quantity: QuantityId) -> &[Track] {
        let all = self.of(owner);
        let first = all.partition_point(|track| track.quantity < quantity);
        let last = all.partition_point(|track| track.quantity <= quantity);
        all.get(first..last).unwrap_or_default()
    }

    /// An owner's tracks, in order of quantity and place.
    #[must_use]
    pub fn of(&self, owner: Owner) -> &[Track] {
        let from = sorted::from(&self.tracks, |track| track.owner < owner);
        sorted::until(from, |track| track.owner <= owner)
    }
}

/// Whether a line with a mistake may have been about that place: it names it, one that holds it or is in it, or what it names is not sure.
#[must_use]
pub fn may_touch(book: &Book, line: EntryId, place: Place) -> bool {
    let items = book.entries.get(line).map_or(&[][..], |entry| book.items_of(entry));
    items.is_empty() || items.iter().any(|item| item.place.touches(place))
}

/// A value on a line: its item, the item of its old value, the mean of it and its repeats.
struct Value {
    verb: SettingVerb,
    at: ItemId,
    old: Option<ItemId>,
    mean: Option<f64>,
}

ids! {
    /// A track of the fold at work.
    TrackId: u32,
}

struct Fold<'a> {
    /// Whose lines these are; `None` for what parts bring along, of all cars.
    of: Option<CarId>,
    book: &'a Book,
    files: &'a Files,
    order: &'a Order,
    sessions: &'a Sessions,
    parts: &'a Parts,
    carriers: &'a FxHashMap<QuantityId, Vec<KindId>>,
    tracks: Arena<TrackId, Track>,
    index: FxHashMap<(Owner, QuantityId, Place), TrackId>,
    /// The lines that made a quantity unknown everywhere.
    lost: FxHashMap<(Owner, QuantityId), Vec<EntryId>>,
    /// What each track's registers hold now: asked, read; both empty when it is unknown.
    last: Arena<TrackId, [Option<SlotEvent>; 2]>,
    /// From which end each track counts clicks, once said: true for full hard.
    datums: Arena<TrackId, Option<bool>>,
    problems: Vec<Problem>,
    /// Pairs of blocks whose order is unclear and was said.
    said: std::collections::BTreeSet<(HeadId, HeadId)>,
}

/// Folds all settings and readings, a car at a time on all cores.
pub fn slots(
    book: &Book,
    files: &Files,
    (order, sessions): (&Order, &Sessions),
    parts: &Parts,
    lines: Lines,
    problems: &mut Vec<Problem>,
) -> Slots {
    let Lines { carriers, of_car: mut lines, benches, structured } = lines;
    let folds: Vec<Fold<'_>> = std::mem::take(lines.as_vec())
        .into_par_iter()
        .enumerate()
        .map(|(car, lines)| {
            let car = CarId::from(car);
            let mut fold = Fold {
                of: book.cars.get(car).map(|_| car),
                book,
                files,
                order,
                sessions,
                parts,
                carriers: &carriers,
                tracks: Arena::new(),
                lost: FxHashMap::default(),
                index: FxHashMap::default(),
                last: Arena::new(),
                datums: Arena::new(),
                problems: Vec::new(),
                said: std::collections::BTreeSet::new(),
            };
            // What parts bring along is folded once for all cars, last; what the cars are declared with goes before it there too.
            match book.cars.get(car) {
                Some(typed) => fold.opening(car, typed, false),
                None => book.cars.iter_enumerated().for_each(|(car, typed)| fold.opening(car, typed, true)),
            }
            for line in lines {
                fold.line(line);
            }
            fold
        })
        .collect();
    let (mut tracks, mut lost) = (Vec::new(), Vec::new());
    for fold in folds {
        problems.extend(fold.problems);
        let ends = fold.datums.iter().copied().chain(std::iter::repeat(None));
        tracks
            .extend(fold.tracks.into_iter().zip(ends).map(|(track, from_hard)| Track { from_hard, ..track }));
        lost.extend(fold.lost.into_iter().map(|((owner, quantity), lines)| Lost { owner, quantity, lines }));
    }
    lost.sort_unstable_by_key(|lost| (lost.owner, lost.quantity));
    tracks.sort_by_key(|track| (track.owner, track.quantity, track.place));
    let index = tracks
        .iter()
        .enumerate()
        .map(|(index, track)| ((track.owner, track.quantity, track.place), index))
        .collect();
    Slots { tracks, lost, index, carriers, benches, structured }
}

impl<'a> Fold<'a> {
    const fn carrying(&self) -> Carrying<'a> {
        Carrying { carriers: self.carriers, book: self.book, parts: self.parts }
    }

    fn track(&mut self, owner: Owner, quantity: QuantityId, place: Place) -> TrackId {
        *self.index.entry((owner, quantity, place)).or_insert_with(|| {
            self.last.push([None; 2]);
            self.datums.push(None);
            self.tracks.push(Track { owner, quantity, place, events: Vec::new(), from_hard: None })
        })
    }

    fn push(&mut self, track: TrackId, event: SlotEvent) {
        self.tracks[track].events.push(event);
        let last = &mut self.last[track];
        match event.register() {
            Register::Asked => last[0] = Some(event),
            Register::Read => last[1] = Some(event),
            Register::Unknown => *last = [None; 2],
        }
    }

    /// The car's own values from its declaration: asked, before everything; those that parts bring along, or the others.
    fn opening(&mut self, car: CarId, typed: &crate::book::model::Car, brought: bool) {
        // Opening items live with the car, not in the book's list; their event points at no entry.
        let mut before: FxHashMap<QuantityId, usize> = FxHashMap::default();
        for (quantity, items, _) in &typed.opening {
            let first = before.entry(*quantity).or_default();
            for (at, item) in items.iter().enumerate() {
                // Words and `off` are values too.
                let silent = Flags::NOT_READ | Flags::UNKNOWN | Flags::OLD | Flags::PART | Flags::REPEAT;
                if !item.is(silent) && self.carriers.contains_key(quantity) == brought {
                    let track = self.track(Owner::Car(car), *quantity, item.place);
                    let event = SlotEvent::new(item.si, None, ItemId::from(*first + at), Register::Asked);
                    self.push(track, event);
                }
            }
            *first += items.len();
        }
    }
}
