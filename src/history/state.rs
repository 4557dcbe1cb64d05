//! What is on a car at a moment: every slot with both registers, every part in its place.
//!
//! Must not know rendering.

use super::History;
use super::disturb::Disturbance;
use super::slots::{Owner, Register, SlotEvent, Track, giver, owner};
use crate::book::Book;
use crate::book::model::{CarId, KindId, PartId};
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::vocabulary::QuantityId;

/// A slot at a moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// What was asked last.
    pub asked: Option<SlotEvent>,
    /// What was read last.
    pub read: Option<SlotEvent>,
    /// An error or a dispute made it unknown, and nothing was said since.
    pub unknown: Option<SlotEvent>,
    /// The change that made the reading stale.
    pub stale: Option<Disturbance>,
}

impl Held {
    /// The later of the two registers.
    #[must_use]
    pub fn is(&self, history: &History) -> Option<SlotEvent> {
        if self.unknown.is_some() {
            return None;
        }
        let rank = |event: &SlotEvent| event.rank(&history.order);
        match (self.asked, self.read) {
            (Some(asked), Some(read)) => Some(if rank(&asked) >= rank(&read) { asked } else { read }),
            (asked, read) => asked.or(read),
        }
    }
}

/// One slot of a car at a moment.
#[derive(Debug, Clone, Copy)]
pub struct SlotState<'a> {
    /// The quantity.
    pub quantity: QuantityId,
    /// The place on the car (also for a part's own slot).
    pub place: Place,
    /// The part it travels with, or that gives it.
    pub part: Option<PartId>,
    /// Its track.
    pub track: &'a Track,
    /// What it holds.
    pub held: Held,
}

/// One place of a car at a moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PlaceState {
    /// The kind.
    pub kind: KindId,
    /// The place.
    pub place: Place,
    /// Who is there.
    pub part: Option<PartId>,
}

/// A track at the moment before `rank`.
#[must_use]
pub fn held(book: &Book, history: &History, car: CarId, place: Place, track: &Track, rank: Rank) -> Held {
    let when = |event: &SlotEvent| event.rank(&history.order).is_none_or(|at| at < rank);
    let count = track.events.partition_point(when);
    let mut held = Held { asked: None, read: None, unknown: None, stale: None };
    for event in track.events[..count].iter().rev() {
        match event.register() {
            Register::Unknown => {
                if held.asked.is_none() && held.read.is_none() {
                    held.unknown = Some(*event);
                }
                break;
            }
            Register::Asked if held.asked.is_none() => held.asked = Some(*event),
            Register::Read if held.read.is_none() => held.read = Some(*event),
            _ => {}
        }
        if held.asked.is_some() && held.read.is_some() {
            break;
        }
    }
    if let Some(at) = held.read.and_then(|read| read.rank(&history.order)) {
        held.stale = history.disturbances.first(book, car, track.quantity, place, at, rank);
    }
    held
}

/// Every slot of a car that holds or held something by the moment before `rank`, in order of area, quantity, place.
#[must_use]
pub fn slots<'a>(book: &Book, history: &'a History, car: CarId, rank: Rank) -> Vec<SlotState<'a>> {
    let mut list: Vec<SlotState<'a>> = Vec::new();
    for track in history.slots.of(Owner::Car(car)) {
        // A part that carries the quantity hides the car's own slot while it is there.
        if owner(&history.slots.carriers, book, &history.parts, car, track.quantity, track.place, rank)
            != Owner::Car(car)
        {
            continue;
        }
        let given =
            giver(&history.slots.carriers, book, &history.parts, car, track.quantity, track.place, rank);
        if given.is_some() {
            continue;
        }
        push(book, history, car, track, track.place, None, rank, &mut list);
    }
    for place in places(history, car, rank) {
        let Some(part) = place.part else { continue };
        let kind = &book.kinds[place.kind];
        for quantity in kind.carries.iter().chain(&kind.gives) {
            if let Some(track) = history.slots.find(Owner::Part(part), *quantity, Place::CAR) {
                push(book, history, car, track, place.place, Some(part), rank, &mut list);
            }
        }
    }
    list.sort_by_key(|slot| (book.vocabulary.get(slot.quantity).area, slot.quantity, slot.place));
    list
}

#[allow(clippy::too_many_arguments)] // one caller above; a struct would only rename the list
fn push<'a>(
    book: &Book,
    history: &History,
    car: CarId,
    track: &'a Track,
    place: Place,
    part: Option<PartId>,
    rank: Rank,
    list: &mut Vec<SlotState<'a>>,
) {
    let held = held(book, history, car, place, track, rank);
    if held.asked.is_some() || held.read.is_some() || held.unknown.is_some() {
        list.push(SlotState { quantity: track.quantity, place, part, track, held });
    }
}

/// Every place of a car that ever held a part, and who is there at the moment before `rank`.
#[must_use]
pub fn places(history: &History, car: CarId, rank: Rank) -> Vec<PlaceState> {
    let part = |kind: &KindId, place: &Place| history.parts.holder(car, *kind, *place, rank);
    let all = history.parts.places_of(car).iter();
    all.map(|(kind, place)| PlaceState { kind: *kind, place: *place, part: part(kind, place) }).collect()
}

/// One slot of a car at a moment, by quantity and place.
#[must_use]
pub fn slot<'a>(
    book: &Book,
    history: &'a History,
    car: CarId,
    quantity: QuantityId,
    place: Place,
    rank: Rank,
) -> Option<SlotState<'a>> {
    let given = giver(&history.slots.carriers, book, &history.parts, car, quantity, place, rank);
    let whose = given.map_or_else(
        || owner(&history.slots.carriers, book, &history.parts, car, quantity, place, rank),
        Owner::Part,
    );
    let (part, at) = match whose {
        Owner::Part(part) => (Some(part), Place::CAR),
        Owner::Car(_) => (None, place),
    };
    let track = history.slots.find(whose, quantity, at)?;
    Some(SlotState { quantity, place, part, track, held: held(book, history, car, place, track, rank) })
}
