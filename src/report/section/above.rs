//! The car from above with a few values where they stand: old to new where something moved, hatched where nothing was read.
//!
//! One drawing for whatever is told of four corners. Must not know which page shows it, nor how a difference is found.

use super::change::{self, ShownChange};
use super::crash::{Measured, Target};
use super::plan::Across;
use super::value::{ShownValue, ValueOrigin};
use crate::book::model::{Body, Car, CarId};
use crate::book::place::Place;
use crate::history::diff::diff;
use crate::history::order::Rank;
use crate::report::teller::Teller;
use serde::Serialize;

/// The car from above, its front at the top.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FromAbove {
    /// Its outline.
    pub body: Body,
    /// Whether the front wheels are driven, and the rear ones.
    pub driven: [bool; 2],
    /// What moved on the front axle, or was read of it.
    pub front: Vec<AboveValue>,
    /// LF, RF, LR, RR.
    pub corners: Vec<AboveCorner>,
    /// The same of the rear axle as of the front one.
    pub rear: Vec<AboveValue>,
    /// The same of what is one for the whole car.
    pub whole: Vec<AboveValue>,
}

/// A corner.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AboveCorner {
    /// "LF".
    pub place: String,
    /// Something moved there.
    pub moved: bool,
    /// Something that the page is about was not measured there.
    pub unread: bool,
    /// Temperatures across its tread as they lie, from left to right; empty where none are told.
    pub treads: Vec<AboveTread>,
    /// Its values.
    pub values: Vec<AboveValue>,
}

/// A temperature of a tread.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AboveTread {
    /// "out", "mid", "in": the inner edge is the one toward the middle of the car.
    pub label: String,
    /// The temperature.
    pub value: ShownValue,
    /// How high its bar is, 4 for the coolest of all four tyres to 24 for the hottest.
    pub high: u8,
}

/// A value, and what it was.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AboveValue {
    /// Its name.
    pub name: String,
    /// What it was, where that is told.
    pub then: Option<ShownValue>,
    /// What it is.
    pub now: ShownValue,
    /// Whether it moved.
    pub moved: bool,
    /// "3.5 × the gauge": how far, where that is told in times of what the gauges leave open; "by -0.03 turn": what would bring it there.
    pub far: String,
    /// Whether it is what it should come to, and not what was read.
    pub expected: bool,
}

/// What is shown of a corner before anything else, in this order.
const FIRST: [&str; 6] = ["tyre cold", "camber", "toe", "ride height", "weight", "tyre hot"];

/// As many values fit at a corner of a phone's first screen.
const MOST: usize = 6;

const CORNERS: [&str; 4] = ["LF", "RF", "LR", "RR"];

/// A car with nothing at its corners.
pub(super) fn bare(tell: &Teller<'_>, car: CarId) -> FromAbove {
    let declared = tell.cx.book.cars.get(car);
    let driven = declared.and_then(Car::driven).unwrap_or_default();
    FromAbove {
        body: declared.map_or(Body::Unsaid, |car| car.body),
        driven: [Place::LF, Place::LR].map(|place| driven.contains(&place)),
        front: Vec::new(),
        corners: CORNERS
            .map(|place| AboveCorner {
                place: place.to_owned(),
                moved: false,
                unread: false,
                treads: Vec::new(),
                values: Vec::new(),
            })
            .to_vec(),
        rear: Vec::new(),
        whole: Vec::new(),
    }
}

impl FromAbove {
    /// Puts a value where its place says.
    pub(super) fn put(&mut self, place: &str, value: AboveValue) {
        match self.corners.iter_mut().find(|corner| corner.place == place) {
            Some(corner) => {
                corner.moved |= value.moved;
                corner.unread |= value.now.how == ValueOrigin::Missing;
                corner.values.push(value);
            }
            None if place.starts_with("front") => self.front.push(value),
            None if place.starts_with("rear") => self.rear.push(value),
            None => self
                .whole
                .push(AboveValue { name: format!("{} {place}", value.name).trim_end().to_owned(), ..value }),
        }
    }

    /// Puts temperatures across the tread of a corner, from left to right.
    pub(super) fn put_treads(&mut self, place: &str, treads: Vec<AboveTread>) {
        if let Some(corner) = self.corners.iter_mut().find(|corner| corner.place == place) {
            corner.treads = treads;
        }
    }

    /// Nothing stands anywhere on it.
    fn is_empty(&self) -> bool {
        let beside = self.front.len() + self.rear.len() + self.whole.len();
        beside == 0 && self.corners.iter().all(|corner| corner.values.is_empty())
    }
}

/// The setup, and what was set otherwise since a moment.
pub(in crate::report) fn of_setup(
    tell: &Teller<'_>,
    car: CarId,
    setup: &Across,
    since: Option<(Rank, Rank)>,
) -> Option<FromAbove> {
    let mut drawn = bare(tell, car);
    let changes = since.map_or_else(Vec::new, |(from, until)| {
        let differs = diff(tell.cx.facts, car, from, until);
        let set = differs.slots.iter().filter(|slot| change::is_set_otherwise(tell, slot));
        set.map(|slot| change::change(tell, car, slot, None, until)).collect()
    });
    let of_corner =
        |place: &str, name: &str| changes.iter().find(|change| change.places == place && change.name == name);
    let rows: Vec<_> = setup.tyres.iter().chain(&setup.rows).collect();
    // "tyre hot, last here" is the reading, "tyre hot, target" what is asked for.
    let named =
        |row: &str, name: &str| row == name || (name == "tyre hot" && row.starts_with("tyre hot, last"));
    let is_changed = |name: &str| CORNERS.iter().any(|place| of_corner(place, name).is_some());
    let mut names: Vec<&str> = FIRST
        .into_iter()
        .filter_map(|name| Some(rows.iter().find(|row| named(&row.name, name))?.name.as_str()))
        .collect();
    let others = rows.iter().map(|row| row.name.as_str()).filter(|name| is_changed(name));
    let others: Vec<&str> = others.filter(|name| !names.contains(name)).collect();
    names.truncate(MOST.saturating_sub(others.len().min(3)));
    names.extend(others.into_iter().take(MOST - names.len().min(MOST)));
    for name in names {
        let Some(row) = rows.iter().find(|row| row.name == name) else { continue };
        if row.spots.iter().all(|spot| spot.value.how == ValueOrigin::Missing) {
            continue;
        }
        for (place, spot) in CORNERS.iter().zip(&row.spots) {
            let changed = of_corner(place, name);
            let then = changed.map(|change| change.then.clone());
            drawn.put(place, value(name, then, spot.value.clone(), changed.is_some()));
        }
    }
    for change in changes.iter().filter(|change| !CORNERS.contains(&change.places.as_str())) {
        drawn.put(&change.places, of_change(change));
    }
    Some(drawn).filter(|drawn| !drawn.is_empty())
}

/// Values, each with its place.
pub(super) fn of_values(
    tell: &Teller<'_>,
    car: CarId,
    values: impl IntoIterator<Item = (String, AboveValue)>,
) -> Option<FromAbove> {
    let mut drawn = bare(tell, car);
    for (place, value) in values {
        drawn.put(&place, value);
    }
    Some(drawn).filter(|drawn| !drawn.is_empty())
}

/// What is set otherwise.
pub(in crate::report) fn of_changes<'c>(
    tell: &Teller<'_>,
    car: CarId,
    changes: impl Iterator<Item = &'c ShownChange>,
) -> Option<FromAbove> {
    let mut drawn = bare(tell, car);
    for change in changes {
        for place in change.places.split(' ').filter(|place| CORNERS.contains(place)) {
            drawn.put(place, of_change(change));
        }
        if !change.places.split(' ').any(|place| CORNERS.contains(&place)) {
            drawn.put(&change.places, of_change(change));
        }
    }
    Some(drawn).filter(|drawn| !drawn.is_empty())
}

/// What was found after an impact, and what was not measured.
pub(in crate::report) fn of_impact(
    tell: &Teller<'_>,
    car: CarId,
    found: &[Measured],
    unread: &[Target],
) -> Option<FromAbove> {
    let mut drawn = bare(tell, car);
    for one in found.iter().filter(|one| one.moved) {
        let far = format!("{} × the gauge", one.widths);
        drawn.put(
            &one.place,
            AboveValue { far, ..value(&one.name, Some(one.left.clone()), one.found.clone(), true) },
        );
    }
    for one in unread {
        drawn.put(&one.place, value(&one.name, Some(one.was.clone()), ShownValue::missing(), false));
    }
    Some(drawn).filter(|drawn| !drawn.is_empty())
}

fn of_change(change: &ShownChange) -> AboveValue {
    value(&change.name, Some(change.then.clone()), change.now.clone(), true)
}

pub(super) fn value(name: &str, then: Option<ShownValue>, now: ShownValue, moved: bool) -> AboveValue {
    AboveValue { name: name.to_owned(), then, now, moved, far: String::new(), expected: false }
}
