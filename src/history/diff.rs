//! How a car's setup differs between two moments, and how it got there.
//!
//! Must not know rendering.

use super::History;
use super::likeness::{self, Likeness};
use super::slots::{Register, SlotEvent, Track};
use super::state::{SlotState, other_forms};
use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::model::{CarId, KindId, PartId};
use crate::book::place::Place;
use crate::history::Facts;
use crate::history::order::Rank;
use crate::vocabulary::QuantityId;

/// What became of a slot between two moments.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fate {
    /// It is set otherwise.
    Changed,
    /// It was set otherwise in between and is back.
    PutBack,
    /// It was set by another gauge to another number, which the comparison of both says is the same.
    SameByGauges,
    /// Nobody set it, but it reads otherwise.
    ReadsOtherwise,
    /// It was only read again, and reads the same.
    ReadAgain,
    /// It was not in the book at the first moment.
    FirstStated,
    /// An error or a dispute makes one of the two unknown.
    Unknown,
}

/// One slot's difference.
#[derive(Debug, Clone)]
pub struct SlotDiff<'a> {
    /// The quantity.
    pub quantity: QuantityId,
    /// The place.
    pub place: Place,
    /// The track of the second moment.
    pub track: &'a Track,
    /// The part it travels with at the second moment.
    pub part: Option<PartId>,
    /// The value then.
    pub then: Option<SlotEvent>,
    /// The track that holds it then (a part may have been swapped).
    pub then_track: Option<&'a Track>,
    /// The value now.
    pub now: Option<SlotEvent>,
    /// What became of it.
    pub fate: Fate,
    /// The lines in between that set it to something new, in order.
    pub steps: Vec<SlotEvent>,
    /// How many times it left its first value and came back to it.
    pub returns: u32,
}

impl SlotDiff<'_> {
    /// What it stood at then, though nothing was said of it yet: see [`crate::vocabulary::Quantity::nought`].
    #[must_use]
    pub fn from_nought(&self, book: &Book) -> Option<f64> {
        book.vocabulary.get(self.quantity).nought(self.fate == Fate::FirstStated)
    }
}

/// One place whose part differs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PartDiff {
    /// The kind.
    pub kind: KindId,
    /// The place.
    pub place: Place,
    /// Who was there.
    pub then: Option<PartId>,
    /// Who is there.
    pub now: Option<PartId>,
    /// The line that put the present one there, or took the former off.
    pub entry: Option<EntryId>,
}

/// A whole difference.
#[derive(Debug, Clone, Default)]
pub struct SetupDiff<'a> {
    /// Slots, in order of area, quantity, place.
    pub slots: Vec<SlotDiff<'a>>,
    /// Places.
    pub parts: Vec<PartDiff>,
}

/// Compares a car before rank `then` with the same car before rank `now`.
#[must_use]
pub fn diff(facts: Facts<'_>, car: CarId, then: Rank, now: Rank) -> SetupDiff<'_> {
    let Facts { book, history, .. } = facts;
    let before = facts.on(car, then).slots();
    let after = facts.on(car, now).slots();
    let mut result = SetupDiff::default();
    for slot in &after {
        let old = before.iter().find(|old| old.quantity == slot.quantity && old.place == slot.place);
        let old = old.filter(|old| {
            likeness::of_one_part(book, slot.quantity, old.part, slot.part) || both_asked(facts, old, slot)
        });
        // What was said there in its other form, or by a line that cannot be read, was not first stated since.
        let forms = other_forms(book, slot.quantity, slot.place);
        let otherwise =
            || before.iter().any(|old| old.quantity == slot.quantity && forms.contains(&old.place));
        let lost = || {
            let lines = history.slots.lost_at(book, slot.track.owner, slot.quantity, slot.place);
            lines.filter_map(|line| history.order.rank.get(line)).any(|rank| *rank < then.min(now))
        };
        if let Some(mut one) = one(facts, old, slot, then.min(now), then.max(now)) {
            if one.fate == Fate::FirstStated && (otherwise() || lost()) {
                one.fate = Fate::Unknown;
            }
            result.slots.push(one);
        }
    }
    let places_then = facts.on(car, then).places();
    for place in facts.on(car, now).places() {
        let old = places_then.iter().find(|old| old.kind == place.kind && old.place == place.place);
        let old = old.and_then(|old| old.part);
        if old != place.part {
            let entry = place.part.or(old).and_then(|part| {
                let stays = &history.parts.get(part).stays;
                stays.iter().rev().find(|stay| stay.from < now).map(|stay| stay.entry)
            });
            result.parts.push(PartDiff {
                kind: place.kind,
                place: place.place,
                then: old,
                now: place.part,
                entry,
            });
        } else if let Some(assembly) = place.part {
            inner(book, history, assembly, place.place, [then, now], &mut result.parts);
        }
    }
    result
}

/// Whether what stands at a place was asked for at both moments: a setting that came with another part stands in place of the one before
/// it, while what was read of one part says nothing of another.
fn both_asked(facts: Facts<'_>, old: &SlotState<'_>, slot: &SlotState<'_>) -> bool {
    let asked = |slot: &SlotState<'_>| {
        slot.held.is(facts.history).is_some_and(|event| event.register() == Register::Asked)
    };
    asked(old) && asked(slot)
}

/// What is in an assembly that stayed in its place: parts that went in or out of it, each against the one of its kind.
fn inner(
    book: &Book,
    history: &History,
    assembly: PartId,
    place: Place,
    [then, now]: [Rank; 2],
    out: &mut Vec<PartDiff>,
) {
    let held = |rank: Rank| {
        let inside = history.parts.inside(assembly, rank);
        inside.filter_map(|part| Some((book.parts.get(part)?.kind?, part))).collect::<Vec<_>>()
    };
    let (before, after) = (held(then), held(now));
    let mut gone: Vec<_> = before.iter().filter(|one| !after.contains(one)).copied().collect();
    let entry = |part: PartId| history.parts.get(part).at(now).map(|stay| stay.entry);
    for (kind, part) in after.iter().filter(|one| !before.contains(one)) {
        let old = gone.iter().position(|(other, _)| other == kind).map(|at| gone.remove(at).1);
        out.push(PartDiff { kind: *kind, place, then: old, now: Some(*part), entry: entry(*part) });
    }
    for (kind, part) in gone {
        out.push(PartDiff { kind, place, then: Some(part), now: None, entry: entry(part) });
    }
}

fn one<'a>(
    facts: Facts<'a>,
    old: Option<&SlotState<'a>>,
    slot: &SlotState<'a>,
    from: Rank,
    until: Rank,
) -> Option<SlotDiff<'a>> {
    let history = facts.history;
    let now = slot.held.is(history);
    let then = old.and_then(|old| old.held.is(history));
    let between =
        |event: &&SlotEvent| event.rank(&history.order).is_some_and(|rank| rank >= from && rank < until);
    let lines: Vec<SlotEvent> = slot.track.events.iter().filter(between).copied().collect();
    let mut steps = Vec::new();
    let mut returns = 0;
    let mut last = then.map(|event| (event, old.map_or(slot.track, |old| old.track)));
    let (mut away, mut left) = (false, false);
    for event in lines.iter().filter(|event| event.register() == Register::Asked) {
        let here = (*event, slot.track);
        let again = |last: (SlotEvent, &Track)| {
            same(facts, last, here) && !likeness::same_by_gauges(facts, last, here)
        };
        if last.is_some_and(again) {
            continue;
        }
        steps.push(*event);
        last = Some(here);
        let home = then.zip(old).is_some_and(|(then, old)| same(facts, (then, old.track), here));
        if home && away {
            returns += 1;
        }
        away = !home;
        left |= away;
    }
    let unknown = slot.held.unknown.is_some() || old.is_some_and(|old| old.held.unknown.is_some());
    let equal = match (then, old, now) {
        (Some(then), Some(old), Some(now)) => same(facts, (then, old.track), (now, slot.track)),
        _ => false,
    };
    let fate = if unknown {
        Fate::Unknown
    } else if old.is_none() || then.is_none() {
        Fate::FirstStated
    } else if equal && !steps.is_empty() {
        if left { Fate::PutBack } else { Fate::SameByGauges }
    } else if equal {
        // What was read of the session that is compared stands behind its start: that is no second reading.
        let again = |event: &SlotEvent| event.register() == Register::Read && Some(*event) != then;
        lines.iter().any(again).then_some(Fate::ReadAgain)?
    } else if steps.is_empty() && old.is_some_and(|old| old.part == slot.part) {
        Fate::ReadsOtherwise
    } else {
        Fate::Changed
    };
    Some(SlotDiff {
        quantity: slot.quantity,
        place: slot.place,
        track: slot.track,
        part: slot.part,
        then,
        then_track: old.map(|old| old.track),
        now,
        fate,
        steps,
        returns,
    })
}

/// Whether two values are the same.
#[must_use]
pub fn same(facts: Facts<'_>, a: (SlotEvent, &Track), b: (SlotEvent, &Track)) -> bool {
    likeness::compare(facts, a, b) == Likeness::Same
}
