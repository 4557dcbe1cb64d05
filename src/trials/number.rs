//! Settings as numbers, and where they differ.
//!
//! Must not know trials.

use super::factor::{Level, PlacedValue};
use super::standings::same_value;
use crate::book::place::Place;
use crate::history::Facts;
use crate::history::likeness;
use crate::units::UnitId;
use std::collections::BTreeMap;

/// The places of the settings, by their place in the list, at which one differs from the first.
#[must_use]
pub fn differing(facts: Facts<'_>, levels: &[Level]) -> Vec<usize> {
    let Some(first) = levels.first() else { return Vec::new() };
    let differs = |place: &usize| levels.iter().any(|level| !same_at(facts, first, level, *place));
    let count = match first {
        Level::Setting(values) => values.len(),
        Level::Parts(parts) => parts.len(),
        Level::Driver(_) | Level::Weather(_) | Level::Times(_) => 0,
    };
    (0..count).filter(differs).collect()
}

/// The places that were turned, each with its number in the lists of the settings.
#[must_use]
pub fn turned(facts: Facts<'_>, levels: &[Level]) -> BTreeMap<Place, usize> {
    let places: Vec<Place> = match levels.first() {
        Some(Level::Setting(values)) => values.iter().map(|value| value.0).collect(),
        Some(Level::Parts(parts)) => parts.iter().map(|part| part.0).collect(),
        _ => Vec::new(),
    };
    let moved = differing(facts, levels).into_iter();
    moved.filter_map(|at| Some((*places.get(at)?, at))).collect()
}

/// Whether two settings are the same at a place of their list.
#[must_use]
pub fn same_at(facts: Facts<'_>, a: &Level, b: &Level, place: usize) -> bool {
    match (a, b) {
        (Level::Setting(a), Level::Setting(b)) => match (a.get(place), b.get(place)) {
            (Some(a), Some(b)) => a.0 == b.0 && same_value(facts, a, b),
            _ => false,
        },
        (Level::Parts(a), Level::Parts(b)) => a.get(place) == b.get(place),
        _ => false,
    }
}

/// The same of places of two lists that name the place alike.
#[must_use]
pub fn same_across(facts: Facts<'_>, a: (&Level, usize), b: (&Level, usize)) -> bool {
    match (a.0, b.0) {
        (Level::Setting(first), Level::Setting(second)) => match (first.get(a.1), second.get(b.1)) {
            (Some(first), Some(second)) => same_value(facts, first, second),
            _ => false,
        },
        (Level::Parts(first), Level::Parts(second)) => first.get(a.1) == second.get(b.1),
        _ => false,
    }
}

/// The number of each setting, in the unit typed first and as the gauge of the first one shows it, where all the places that differ move by as much; in SI where
/// units of two sorts were typed (toe as a length and as an angle). `None` where one is no number.
#[must_use]
pub fn numbers(facts: Facts<'_>, levels: &[Level]) -> Option<Vec<f64>> {
    let moved = differing(facts, levels);
    let mut units: Vec<UnitId> = Vec::new();
    let mut number = |value: &PlacedValue, first: &PlacedValue| {
        let (event, track) = value.1.as_ref()?;
        let track = track.track(facts.history)?;
        let item = facts.history.item(facts.book, track, event).filter(|item| item.has_value())?;
        units.push(item.unit());
        let as_first = first.1.as_ref().and_then(|(of, other)| {
            let (more, _) =
                likeness::gauges_between(facts, (event, track), (of, other.track(facts.history)?));
            Some(event.value - more)
        });
        Some(as_first.unwrap_or(event.value))
    };
    let Some(Level::Setting(of_first)) = levels.first() else { return None };
    let mut list: Vec<Vec<f64>> = Vec::new();
    for level in levels {
        let Level::Setting(values) = level else { return None };
        list.push(
            moved
                .iter()
                .map(|place| number(values.get(*place)?, of_first.get(*place)?))
                .collect::<Option<_>>()?,
        );
    }
    // What an other unit says of the same thing changes nothing of what the runs say.
    let unit = units.first().copied();
    let alike = unit.is_some_and(|first| units.iter().all(|other| other.get().dim == first.get().dim));
    let in_unit = |si: f64| unit.filter(|_| alike).map_or(si, |unit| unit.get().from_si(si));
    let list: Vec<Vec<f64>> =
        list.into_iter().map(|level| level.into_iter().map(in_unit).collect()).collect();
    let first = list.first()?;
    let by = |level: &[f64], place: usize| Some(level.get(place)? - first.get(place)?);
    let together = list.iter().all(|level| {
        (0..moved.len()).all(|place| {
            let pair = by(level, place).zip(by(level, 0));
            pair.is_some_and(|(a, b)| (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1e-9))
        })
    });
    together.then(|| list.iter().filter_map(|level| level.first()).copied().collect())
}
