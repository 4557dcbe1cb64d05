//! Slots: every quantity at every place of a car (or of a part that carries it), with its two registers over time.
//!
//! *Asked* is what `set` and `adjust` said, *read* what a gauge said. Must not know reports.

mod carrying;
mod counting;
mod event;

pub use carrying::{Carrying, Owner};
pub use event::{Register, SlotEvent};

use super::alike;
use super::clicks::Counting;
use super::order::Order;
use super::parts::Parts;
use super::problem::{Problem, WrongOld};
use crate::book::Book;
use crate::book::entry::{Entry, EntryId, Flags, HeadId, Item, ItemId, Verb};
use crate::book::model::{CarId, KindId, PartId};
use crate::book::place::Place;
use crate::book::verbs::{SettingVerb, VerbGroup};
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
    /// Its values in order.
    pub events: Vec<SlotEvent>,
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
    index: FxHashMap<(Owner, QuantityId, Place), u32>,
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

    /// A slot's track.
    #[must_use]
    pub fn find(&self, owner: Owner, quantity: QuantityId, place: Place) -> Option<&Track> {
        self.index.get(&(owner, quantity, place)).map(|at| &self.tracks[*at as usize])
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
        let first = self.tracks.partition_point(|track| track.owner < owner);
        let last = self.tracks.partition_point(|track| track.owner <= owner);
        &self.tracks[first..last]
    }
}

/// A value on a line: its item, the item of its old value, the mean of it and its repeats.
struct Value {
    verb: SettingVerb,
    at: ItemId,
    old: Option<ItemId>,
    mean: Option<f64>,
}

struct Fold<'a> {
    book: &'a Book,
    files: &'a Files,
    order: &'a Order,
    parts: &'a Parts,
    carriers: &'a FxHashMap<QuantityId, Vec<KindId>>,
    tracks: Vec<Track>,
    index: FxHashMap<(Owner, QuantityId, Place), u32>,
    /// The lines that made a quantity unknown everywhere.
    lost: FxHashMap<(Owner, QuantityId), Vec<EntryId>>,
    /// What each track's registers hold now: asked, read; both empty when it is unknown.
    last: Vec<[Option<SlotEvent>; 2]>,
    /// From which end each track counts clicks, once said: true for full hard.
    datums: Vec<Option<bool>>,
    problems: Vec<Problem>,
    /// Pairs of blocks whose order is unclear and was said.
    said: std::collections::BTreeSet<(HeadId, HeadId)>,
}

/// Lines about settings and readings, sorted out for [`slots`].
#[derive(Debug)]
pub struct Lines {
    carriers: FxHashMap<QuantityId, Vec<KindId>>,
    /// Of each car, in order; last those that touch what parts carry or give, of all cars together, since parts move.
    of_car: Vec<Vec<EntryId>>,
    /// Bench lines of each part, in order.
    benches: FxHashMap<PartId, Vec<EntryId>>,
    /// Readings whose values stand on lines under them, in order.
    structured: Vec<EntryId>,
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
    let mut of_car: Vec<Vec<EntryId>> = vec![Vec::new(); book.cars.len()];
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
            of_car[car.index()].push(*index);
        }
    }
    of_car.push(shared);
    Lines { carriers, of_car, benches, structured }
}

/// Folds all settings and readings, a car at a time on all cores.
pub fn slots(
    book: &Book,
    files: &Files,
    order: &Order,
    parts: &Parts,
    lines: Lines,
    problems: &mut Vec<Problem>,
) -> Slots {
    let Lines { carriers, of_car: lines, benches, structured } = lines;
    let folds: Vec<Fold<'_>> = lines
        .into_par_iter()
        .enumerate()
        .map(|(car, lines)| {
            let mut fold = Fold {
                book,
                files,
                order,
                parts,
                carriers: &carriers,
                tracks: Vec::new(),
                lost: FxHashMap::default(),
                index: FxHashMap::default(),
                last: Vec::new(),
                datums: Vec::new(),
                problems: Vec::new(),
                said: std::collections::BTreeSet::new(),
            };
            let car = CarId::from(car);
            if let Some(typed) = book.cars.get(car) {
                fold.opening(car, typed);
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
        tracks.extend(fold.tracks);
        lost.extend(fold.lost.into_iter().map(|((owner, quantity), lines)| Lost { owner, quantity, lines }));
    }
    lost.sort_unstable_by_key(|lost| (lost.owner, lost.quantity));
    tracks.sort_by_key(|track| (track.owner, track.quantity, track.place));
    let index = tracks
        .iter()
        .enumerate()
        .map(|(at, track)| ((track.owner, track.quantity, track.place), at as u32))
        .collect();
    Slots { tracks, lost, index, carriers, benches, structured }
}

impl<'a> Fold<'a> {
    const fn carrying(&self) -> Carrying<'a> {
        Carrying { carriers: self.carriers, book: self.book, parts: self.parts }
    }

    fn track(&mut self, owner: Owner, quantity: QuantityId, place: Place) -> u32 {
        *self.index.entry((owner, quantity, place)).or_insert_with(|| {
            self.tracks.push(Track { owner, quantity, place, events: Vec::new() });
            self.last.push([None; 2]);
            self.datums.push(None);
            self.tracks.len() as u32 - 1
        })
    }

    fn push(&mut self, track: u32, event: SlotEvent) {
        self.tracks[track as usize].events.push(event);
        let last = &mut self.last[track as usize];
        match event.register() {
            Register::Asked => last[0] = Some(event),
            Register::Read => last[1] = Some(event),
            Register::Unknown => *last = [None; 2],
        }
    }

    /// The car's own values from its declaration: asked, before everything.
    fn opening(&mut self, car: CarId, typed: &crate::book::model::Car) {
        // Opening items live with the car, not in the book's list; their event points at no entry.
        let mut before: FxHashMap<QuantityId, usize> = FxHashMap::default();
        for (quantity, items, _) in &typed.opening {
            let first = before.entry(*quantity).or_default();
            for (at, item) in items.iter().enumerate() {
                // Words and `off` are values too.
                if !item.is(Flags::NOT_READ | Flags::UNKNOWN | Flags::OLD | Flags::PART | Flags::REPEAT) {
                    let track = self.track(Owner::Car(car), *quantity, item.place);
                    let event = SlotEvent::new(item.si, None, ItemId::from(*first + at), Register::Asked);
                    self.push(track, event);
                }
            }
            *first += items.len();
        }
    }

    /// Whether a line is one of an outfit that the line above it fits.
    fn of_outfit(&self, entry: &Entry) -> bool {
        let above = entry.parent.and_then(|above| self.book.entries.get(above));
        let facts = above.and_then(|above| self.book.extra(above)).and_then(|extra| extra.parts.as_deref());
        facts.is_some_and(|facts| facts.outfit.is_some())
    }

    fn line(&mut self, index: EntryId) {
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
            // Their lines have no quantity of their own.
            VerbGroup::Row(_)
            | VerbGroup::Compare
            | VerbGroup::Part(_)
            | VerbGroup::Hit
            | VerbGroup::Run
            | VerbGroup::Laps
            | VerbGroup::Words
            | VerbGroup::Waive
            | VerbGroup::Void
            | VerbGroup::Job(_)
            | VerbGroup::Cost
            | VerbGroup::Stock(_)
            | VerbGroup::Note => return,
        };
        let Some(car) = self.book.head(entry).and_then(|head| head.car) else { return };
        if entry.broken {
            self.unknown(index, car, quantity);
            return;
        }
        let rank = self.order.rank[index];
        let first = entry.items;
        let items = self.book.items_of(entry);
        let mut given = false;
        let mut at = 0;
        while at < items.len() {
            let mut end = at + 1;
            while end < items.len() && items[end].is(Flags::PART | Flags::REPEAT) {
                end += 1;
            }
            let item = &items[at];
            if item.is(Flags::OLD) {
                // Its new value follows later for the same place; compared there.
                at = end;
                continue;
            }
            if item.is(Flags::NOT_READ) {
                at = end;
                continue;
            }
            let old = items[..at]
                .iter()
                .position(|old| old.is(Flags::OLD) && old.place == item.place && !old.is(Flags::PART));
            if matches!(verb, SettingVerb::Set | SettingVerb::Adjust)
                && let Some(part) = self.carrying().giver(car, quantity, item.place, rank)
            {
                // One message a line; its other places are what it says.
                if !given {
                    self.problems.push(Problem::RateFromPart { entry: index, item: first.plus(at), part });
                }
                given = true;
                at = end;
                continue;
            }
            let (owner, place) = self.carrying().slot(car, quantity, item.place, rank);
            let track = self.track(owner, quantity, place);
            let value = Value {
                verb,
                at: first.plus(at),
                old: old.map(|old| first.plus(old)),
                mean: mean(&items[at..end]),
            };
            at = end;
            match self.counting(track, index, entry, owner, value.at) {
                Some(counting) => self.event(track, index, &value, counting),
                None => self.push(track, SlotEvent::new(0.0, Some(index), value.at, Register::Unknown)),
            }
        }
    }

    fn bench(&mut self, index: EntryId, entry: &Entry, quantity: QuantityId) {
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

    /// An error in a line: what it would have touched is not known.
    fn unknown(&mut self, index: EntryId, car: CarId, quantity: QuantityId) {
        let parts = self.carrying().carried_on(car, quantity, self.order.rank[index]);
        let owners: Vec<Owner> = parts.into_iter().map(Owner::Part).chain([Owner::Car(car)]).collect();
        self.lose(index, quantity, &owners);
    }

    fn lose(&mut self, index: EntryId, quantity: QuantityId, owners: &[Owner]) {
        for owner in owners {
            // One first seen later is unknown too.
            self.lost.entry((*owner, quantity)).or_default().push(index);
        }
        for at in 0..self.tracks.len() {
            let track = &self.tracks[at];
            if track.quantity == quantity && owners.contains(&track.owner) {
                self.push(at as u32, SlotEvent::new(0.0, Some(index), ItemId::new(0), Register::Unknown));
            }
        }
    }

    fn event(&mut self, track: u32, index: EntryId, value: &Value, counting: Counting) {
        let Value { verb, at: item_at, old, mean } = *value;
        let item = &self.book.items[item_at];
        let quantity = self.tracks[track as usize].quantity;
        let last = self.tracks[track as usize].events.last().copied();
        let disputed = self.unclear(index, last);
        let lost = self.lost.contains_key(&(self.tracks[track as usize].owner, quantity));
        let [asked, read] = self.last[track as usize];
        let is = last.filter(|event| event.register() != Register::Unknown);
        let unknown =
            last.is_some_and(|event| event.register() == Register::Unknown) || last.is_none() && lost;
        if let Some(old) = old
            && !unknown
        {
            self.old_value(track, index, old, [is, asked, read], counting);
        }
        let (value, register) = match verb {
            SettingVerb::Adjust => {
                let relative = self.book.vocabulary.get(quantity).relative;
                let base = is
                    .filter(|event| self.typed(track, event).is_some_and(|(item, _)| item.has_value()))
                    .map(|event| event.value);
                if let Some(base) = base.or((relative && is.is_none() && !unknown).then_some(0.0)) {
                    (base + counting.of(item.si), Register::Asked)
                } else {
                    if !unknown {
                        self.problems.push(Problem::DeltaFromUnknown { entry: index, item: item_at });
                    }
                    (0.0, Register::Unknown)
                }
            }
            SettingVerb::Set | SettingVerb::Fill => {
                if let Some(was) = asked.filter(|was| {
                    verb == SettingVerb::Set
                        // An outfit states all of its settings, those too that stand so already.
                        && !self.of_outfit(&self.book.entries[index])
                        && is == Some(*was)
                        && self.same(track, was, index, item, counting)
                }) {
                    self.problems.push(Problem::ChangeIsNothing {
                        entry: index,
                        item: item_at,
                        was: was.entry,
                    });
                }
                (counting.of(item.si), Register::Asked)
            }
            SettingVerb::Found
            | SettingVerb::Left
            | SettingVerb::Read
            | SettingVerb::Torque
            | SettingVerb::Recheck => (counting.of(mean.unwrap_or(item.si)), Register::Read),
        };
        if register == Register::Read
            && self.book.vocabulary.get(quantity).counter
            && let Some(before) = is.filter(|before| before.value > value + f64::from(item.half))
            && let Some(was) = before.entry
        {
            self.problems.push(Problem::CounterWentBack {
                entry: index,
                item: item_at,
                was,
                was_item: before.item(),
            });
        }
        self.push(track, SlotEvent::new(value, Some(index), item_at, register));
        if disputed {
            self.push(track, SlotEvent::new(0.0, Some(index), item_at, Register::Unknown));
        }
    }

    /// What was typed for a value of a track, and in which file.
    fn typed(&self, track: u32, event: &SlotEvent) -> Option<(&'a Item, FileId)> {
        let track = &self.tracks[track as usize];
        track.item(self.book, event).zip(track.file(self.book, event))
    }

    /// Whether the item says again what the event said.
    fn same(&self, track: u32, was: &SlotEvent, index: EntryId, item: &Item, counting: Counting) -> bool {
        let here = (item, self.book.entries[index].file);
        let words = self.typed(track, was).and_then(|was| alike::words(self.files, was, here));
        words.unwrap_or_else(|| {
            let value = counting.of(item.si);
            item.has_value() && (value - was.value).abs() <= 1e-9 * value.abs().max(was.value.abs())
        })
    }

    fn old_value(
        &mut self,
        track: u32,
        index: EntryId,
        old_at: ItemId,
        [is, asked, read]: [Option<SlotEvent>; 3],
        counting: Counting,
    ) {
        let mut old = self.book.items[old_at];
        if old.is(Flags::UNKNOWN) {
            return;
        }
        let Some(latest) = is else { return };
        if old.has_value() {
            old.si = counting.of(old.si);
        }
        let here = (&old, self.book.entries[index].file);
        let fits = [asked, read].into_iter().flatten().any(|event| {
            let was = self.typed(track, &event);
            let line = event.line(self.book);
            was.is_some_and(|was| alike::fits(self.book, self.files, here, (was, line, event.value)))
        });
        if !fits {
            let (was, was_item, value) = (latest.entry, latest.item(), latest.value);
            let wrong = WrongOld { item: old_at, was, was_item, value };
            // The corners of one line are one mistake.
            match self.problems.last_mut() {
                Some(Problem::OldValueDiffers { entry, wrong: known }) if *entry == index => {
                    known.push(wrong);
                }
                _ => self.problems.push(Problem::OldValueDiffers { entry: index, wrong: vec![wrong] }),
            }
        }
    }

    /// Two blocks in different files, one day, one slot, no times that decide: said once per pair of blocks.
    fn unclear(&mut self, index: EntryId, last: Option<SlotEvent>) -> bool {
        let Some(last) = last.and_then(|last| last.entry) else { return false };
        if !self.order.unclear(self.book, last, index) {
            return false;
        }
        let pair = (self.book.entries[last].head, self.book.entries[index].head);
        if self.said.insert((pair.0.min(pair.1), pair.0.max(pair.1))) {
            self.problems.push(Problem::OrderUnclear { first: last, second: index });
        }
        true
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
