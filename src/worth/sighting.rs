//! What was read of a car standing still: each reading with its line, and how closely it could be read.
//!
//! What is read under a session is of the car running, and of no use here. Must not know what was turned between.

use crate::book::entry::{EntryId, Flags, Verb};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::figures::uncertainty::rectangular;
use crate::history::order::Rank;
use crate::history::slots::{Owner, Register, Track};
use crate::history::{Facts, grain};
use crate::units::UnitId;
use crate::vocabulary::QuantityId;
use std::collections::BTreeMap;

/// What moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Outcome {
    /// Right front and left rear together, as a share of what four pads read in one line.
    Cross(QuantityId),
    /// What is read of a quantity at a place.
    Reading(QuantityId, Place),
}

impl Outcome {
    /// The quantity that is read: of the cross that of the pads.
    #[must_use]
    pub const fn quantity(self) -> QuantityId {
        match self {
            Self::Cross(quantity) | Self::Reading(quantity, _) => quantity,
        }
    }
}

/// One reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sighting {
    /// When.
    pub rank: Rank,
    /// Its line.
    pub line: EntryId,
    /// SI.
    pub value: f64,
    /// Its standard uncertainty by what its gauge or last digit tells apart, SI.
    pub grain: f64,
    /// By how much its gauge read high, as it was compared, SI of the item; 0 where nobody compared it.
    pub high: f64,
    /// The unit typed; `None` of a share.
    pub unit: Option<UnitId>,
}

/// Every outcome that was read at least twice before a rank, in order.
#[must_use]
pub fn of_car(facts: Facts<'_>, car: CarId, until: Rank) -> BTreeMap<Outcome, Vec<Sighting>> {
    let mut all = BTreeMap::new();
    let weight = facts.book.vocabulary.find("weight");
    for track in facts.history.slots.of(Owner::Car(car)) {
        let list = of_track(facts, track, until);
        if list.len() > 1 {
            all.insert(Outcome::Reading(track.quantity, track.place), list);
        }
    }
    if let Some(weight) = weight {
        let pads = Place::CORNERS.map(|corner| all.get(&Outcome::Reading(weight, corner)));
        let list = cross(pads.map(|list| list.map_or(&[][..], Vec::as_slice)));
        if list.len() > 1 {
            all.insert(Outcome::Cross(weight), list);
        }
    }
    all
}

fn of_track(facts: Facts<'_>, track: &Track, until: Rank) -> Vec<Sighting> {
    let mut list = Vec::new();
    for (line, event) in track.lines().filter(|(_, event)| event.register() == Register::Read) {
        let Some(entry) = facts.book.entries.get(line) else { continue };
        let Some(rank) = event.rank(&facts.history.order).filter(|rank| *rank < until) else { continue };
        let read =
            matches!(entry.verb, Verb::Found | Verb::Left | Verb::Read) && !entry.void && !entry.broken;
        let Some(item) = facts.history.item(facts.book, track, event).filter(|item| item.has_value()) else {
            continue;
        };
        if !read || item.is(Flags::OLD) || facts.history.during(facts.book, line).is_some() {
            continue;
        }
        let grain = rectangular(grain::half(facts.book, facts.files, entry, item));
        let high = facts.correction(line, item).map_or(0.0, |(_, correction)| correction.high);
        let unit = item.unit;
        // Of a line that names a place twice the last counts, as in its slot.
        if list.last().is_some_and(|last: &Sighting| last.line == line) {
            list.pop();
        }
        list.push(Sighting { rank, line, value: event.value, grain, high, unit });
    }
    list
}

/// The cross of every line that read all four pads before a rank, in order.
#[must_use]
pub fn weighings(facts: Facts<'_>, car: CarId, weight: QuantityId, until: Rank) -> Vec<Sighting> {
    let track = |corner: Place| facts.history.slots.find(Owner::Car(car), weight, corner);
    let pads = Place::CORNERS.map(|corner| track(corner).map(|track| of_track(facts, track, until)));
    cross(pads.each_ref().map(|list| list.as_deref().unwrap_or_default()))
}

/// The cross of the loads on LF, RF, LR and RR: right front and left rear as a share of all four.
#[must_use]
pub fn cross_of([lf, rf, lr, rr]: [f64; 4]) -> f64 {
    (rf + lr) / (lf + rf + lr + rr)
}

/// The cross of every line that read all four pads.
fn cross([lf, rf, lr, rr]: [&[Sighting]; 4]) -> Vec<Sighting> {
    let of = |list: &[Sighting], line: EntryId| list.iter().find(|one| one.line == line).copied();
    let mut found = Vec::new();
    for lf in lf {
        let [Some(rf), Some(lr), Some(rr)] = [rf, lr, rr].map(|list| of(list, lf.line)) else { continue };
        let total = lf.value + rf.value + lr.value + rr.value;
        if total <= 0.0 {
            continue;
        }
        let share = cross_of([lf.value, rf.value, lr.value, rr.value]);
        let part = |one: &Sighting, by: f64| (one.grain * by / total) * (one.grain * by / total);
        let square = part(&rf, 1.0 - share) + part(&lr, 1.0 - share) + part(lf, share) + part(&rr, share);
        found.push(Sighting { value: share, grain: square.sqrt(), unit: None, ..*lf });
    }
    found
}
