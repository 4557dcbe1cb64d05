//! Whether what differs between two setups is what a trial compared.
//!
//! Must not know numbers, nor words.

use super::factor::{Factor, Level, PlacedValue, TrackKey};
use super::number::differing;
use super::standings::same_value;
use super::trial::Trial;
use crate::book::place::Place;
use crate::history::Facts;
use crate::history::diff::{Fate, SetupDiff, SlotDiff};

/// The two settings of a trial that differ in `diff` at every place that it turned: what stood then, and what stands now. What was put back
/// does not differ.
#[must_use]
pub fn compared(facts: Facts<'_>, trial: &Trial, diff: &SetupDiff<'_>) -> Option<(usize, usize)> {
    let turned = differing(facts, &trial.levels);
    let levels = |then: bool| {
        trial.levels.iter().position(|level| {
            !turned.is_empty()
                && turned.iter().all(|place| stands(facts, trial.factor, level, *place, diff, then))
        })
    };
    levels(true).zip(levels(false)).filter(|(then, now)| then != now)
}

/// Whether a place of a setting is what stood there, then or now.
fn stands(
    facts: Facts<'_>,
    factor: Factor,
    level: &Level,
    place: usize,
    diff: &SetupDiff<'_>,
    then: bool,
) -> bool {
    match (factor, level) {
        (Factor::Setting(quantity), Level::Setting(values)) => {
            let Some(value) = values.get(place) else { return false };
            let moved = |slot: &&SlotDiff<'_>| {
                slot.quantity == quantity
                    && slot.place == value.0
                    && !matches!(slot.fate, Fate::PutBack | Fate::SameByGauges)
            };
            let slot = diff.slots.iter().find(moved);
            slot.and_then(|slot| end(slot, value.0, then)).is_some_and(|end| same_value(facts, value, &end))
        }
        (Factor::Parts(kind), Level::Parts(parts)) => {
            let Some((at, part, ..)) = parts.get(place) else { return false };
            let one = diff.parts.iter().find(|one| one.kind == kind && one.place == *at);
            one.is_some_and(|one| *part == if then { one.then } else { one.now })
        }
        _ => false,
    }
}

/// A slot's value at one end.
fn end(slot: &SlotDiff<'_>, place: Place, then: bool) -> Option<PlacedValue> {
    let held = if then { slot.then.zip(slot.then_track) } else { slot.now.map(|now| (now, slot.track)) };
    held.map(|(event, track)| (place, Some((event, TrackKey::of(track)))))
}
