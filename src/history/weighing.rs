//! One weighing of a car: the pads that were read together, and the whole car where it was read with them.
//!
//! Readings are of one weighing where they stand in one block, nothing that moves the load on a wheel came between, no session ran
//! and nobody changed what is aboard, under the same conditions. A pad read again begins another. Must not know figures.

use super::facts::Facts;
use super::grain;
use super::likeness::{self, Reading};
use super::order::Rank;
use super::slots::{Owner, Register, SlotEvent};
use crate::book::entry::{EntryId, Flags, Verb};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::vocabulary::QuantityId;

/// What was read of a car standing on scales.
#[derive(Debug, Clone, Copy)]
pub struct Weighing {
    /// The line that read each pad: LF, RF, LR, RR.
    pub pads: [Option<EntryId>; 4],
    /// The whole car, where it was read with them.
    pub total: Option<SlotEvent>,
    /// The newest line that read a pad.
    pub last: EntryId,
    /// Where its first line that read a pad stands in the order.
    pub from: Rank,
}

impl Weighing {
    /// The corners that no pad was read at.
    pub fn unread(&self) -> impl Iterator<Item = Place> {
        let pads = Place::CORNERS.into_iter().zip(self.pads);
        pads.filter(|(_, line)| line.is_none()).map(|(corner, _)| corner)
    }

    /// Whether the load on every wheel is known: all four read, or three and the whole car.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.unread().count() <= usize::from(self.total.is_some())
    }
}

/// What a car carries without its being set.
pub const LOAD: [&str; 2] = ["fuel", "driver-mass"];

/// What a car carries that is filled or changed between two readings.
const ABOARD: [&str; 3] = [LOAD[0], LOAD[1], "ballast"];

/// The newest weighing of a car; `until` says up to when the readings of a quantity are taken.
#[must_use]
pub fn newest(facts: Facts<'_>, car: CarId, until: impl Fn(QuantityId) -> Rank) -> Option<Weighing> {
    let weight = facts.book.vocabulary.find("weight")?;
    let standing = facts.on(car, until(weight));
    let read = Place::CORNERS.map(|corner| {
        let held = standing.slot(weight, corner)?.held;
        held.read.filter(|_| held.unknown.is_none())?.entry
    });
    let rank = |entry: EntryId| facts.history.order.rank.get(entry).copied().unwrap_or(Rank::START);
    let last = read.into_iter().flatten().max_by_key(|entry| rank(*entry))?;
    let of_it = |(corner, line): (Place, Option<EntryId>)| {
        let line = line?;
        // A line one of whose pads was read again is of another weighing.
        let kept = |(corner, newest): (Place, &Option<EntryId>)| {
            *newest == Some(line) || !reads(facts, line, corner)
        };
        let whole = Place::CORNERS.into_iter().zip(&read).all(kept);
        let pad = Reading { quantity: weight, place: corner, entry: line, owner: Owner::Car(car) };
        let newest = Reading { entry: last, ..pad };
        (line == last || whole && same_verbs(facts, line, last) && together(facts, car, pad, newest))
            .then_some(line)
    };
    let mut lines = read.into_iter();
    let pads = Place::CORNERS.map(|corner| of_it((corner, lines.next().flatten())));
    let from = pads.iter().flatten().map(|line| rank(*line)).min().unwrap_or(Rank::START);
    let total = total(facts, car, last, until);
    Some(Weighing { pads, total, last, from })
}

/// The newest reading of the whole car that is of the same weighing as the pads.
fn total(
    facts: Facts<'_>,
    car: CarId,
    pads: EntryId,
    until: impl Fn(QuantityId) -> Rank,
) -> Option<SlotEvent> {
    let id = facts.book.vocabulary.find("total-weight")?;
    let until = until(id);
    let slot = facts.on(car, until).slot(id, Place::CAR)?;
    let of = |entry: EntryId| facts.book.entries.get(entry).map(|line| line.head);
    let before = |event: &&SlotEvent| event.rank(&facts.history.order).is_some_and(|rank| rank < until);
    let block = |event: &&SlotEvent| event.entry.is_some_and(|entry| of(entry) == of(pads));
    let read = slot.track.events.iter().rev().filter(before).filter(block);
    // A line that cannot be read leaves nothing to go by.
    let read = read.filter(|event| event.register() != Register::Asked);
    let weight = facts.book.vocabulary.find("weight")?;
    let reading = |quantity, entry| Reading { quantity, place: Place::CAR, entry, owner: Owner::Car(car) };
    let stood = |event: &&SlotEvent| {
        event.register() == Register::Unknown
            || event
                .entry
                .is_some_and(|entry| together(facts, car, reading(id, entry), reading(weight, pads)))
    };
    read.copied().find(|event| stood(&event)).filter(|event| event.register() == Register::Read)
}

/// Whether a line has a value of a pad.
fn reads(facts: Facts<'_>, line: EntryId, corner: Place) -> bool {
    let items = facts.book.entries.get(line).map(|line| facts.book.items_of(line)).unwrap_or_default();
    items.iter().any(|item| item.place == corner && item.has_value() && !item.is(Flags::OLD))
}

/// What was found and what was left are two weighings, with work between.
fn same_verbs(facts: Facts<'_>, a: EntryId, b: EntryId) -> bool {
    let verb = |entry: EntryId| facts.book.entries.get(entry).map(|line| line.verb);
    let (a, b) = (verb(a), verb(b));
    a == b || a == Some(Verb::Read) || b == Some(Verb::Read)
}

/// Whether two readings were taken of one car standing as it stood: of one block, with nothing between that either would show.
#[must_use]
pub fn together(facts: Facts<'_>, car: CarId, a: Reading, b: Reading) -> bool {
    let (book, history) = (facts.book, facts.history);
    let head = |reading: Reading| book.entries.get(reading.entry).map(|line| line.head);
    let session = |reading: Reading| history.during(book, reading.entry);
    if head(a) != head(b) || session(a) != session(b) {
        return false;
    }
    let rank = |reading: Reading| history.order.rank.get(reading.entry).copied().unwrap_or(Rank::START);
    let [older, newer] = if rank(a) <= rank(b) { [a, b] } else { [b, a] };
    let between = [rank(older), rank(newer)];
    let inside = |rank: Rank| rank > between[0] && rank < between[1];
    // Of the whole car only what changes the whole car matters, of the pads what moves a load.
    let moved = likeness::changes(facts, car, a, between)
        .filter(|change| likeness::felt(facts, b, change))
        .any(|change| inside(change.rank));
    let ran = !history.sessions.between(car, between[0].next(), between[1]).is_empty();
    let aboard = ABOARD.into_iter().filter_map(|name| book.vocabulary.find(name));
    let loaded = aboard.filter_map(|id| facts.on(car, between[1]).slot(id, Place::CAR)).any(|slot| {
        let rank = |event: &SlotEvent| event.rank(&history.order);
        slot.track.events.iter().any(|event| rank(event).is_some_and(inside))
    });
    !moved && !ran && !loaded && likeness::conditions(facts, older, newer).is_none()
}

/// The pads of one weighing against the whole car read with them, SI.
#[derive(Debug, Clone, Copy)]
pub struct PadsAgainstTotal {
    /// What the pads that were read add up to.
    pub pads: f64,
    /// How many they are.
    pub count: usize,
    /// The whole car.
    pub total: SlotEvent,
    /// By how much the two may differ and agree: half a division of each pad and of the scale, added.
    pub room: f64,
}

impl PadsAgainstTotal {
    /// Whether they cannot both be true: four pads that are not the whole car, or fewer that are no less.
    #[must_use]
    pub fn differ(&self) -> bool {
        let over = self.pads - self.total.value;
        if self.count == 4 {
            likeness::within(over, self.room) == likeness::Likeness::Moved
        } else {
            over > -self.room
        }
    }
}

/// Holds the pads of the newest weighing against the whole car read with them; `None` without both.
#[must_use]
pub fn against_total(facts: Facts<'_>, car: CarId, until: Rank) -> Option<(Weighing, PadsAgainstTotal)> {
    let weighing = newest(facts, car, |_| until)?;
    let total = weighing.total?;
    let (weight, whole) =
        (facts.book.vocabulary.find("weight")?, facts.book.vocabulary.find("total-weight")?);
    let standing = facts.on(car, until);
    let half = |event: &SlotEvent, track| {
        let item = facts.history.item(facts.book, track, event)?;
        Some(grain::half(facts.book, facts.files, event.line(facts.book)?, item))
    };
    let mut room = half(&total, standing.slot(whole, Place::CAR)?.track)?;
    let (mut pads, mut count) = (0.0, 0);
    for (corner, _) in Place::CORNERS.into_iter().zip(weighing.pads).filter(|(_, line)| line.is_some()) {
        let slot = standing.slot(weight, corner)?;
        let read = slot.held.read?;
        room += half(&read, slot.track)?;
        pads += read.value;
        count += 1;
    }
    Some((weighing, PadsAgainstTotal { pads, count, total, room }))
}
