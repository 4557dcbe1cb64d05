//! What was read for rules: values, the readings they make up, and the store of them that every rule of a book asks.
//!
//! Must not know limits, nor how a reading is come by.

use crate::book::entry::EntryId;
use crate::book::model::{CarId, EventId};
use crate::book::place::Place;
use crate::figures::Missing;
use crate::history::order::Rank;
use crate::sorted;
use crate::source::Span;
use crate::units::{DimensionId, UnitId, toe};
use crate::vocabulary::QuantityId;
use jiff::civil::Date;
use std::collections::BTreeMap;
use std::ops::Deref;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// How surely a value is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound {
    /// As it stands.
    Just,
    /// It is this, or more.
    AtLeast,
    /// It is this, or less.
    AtMost,
}

/// One value at one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Value {
    /// Where.
    pub place: Place,
    /// SI, put right by the comparisons of its gauges.
    pub si: f64,
    /// SI, as its readings were typed; the same, where nothing was put right.
    pub as_typed: f64,
    /// Its kind.
    pub dimension: DimensionId,
    /// How far off it may be for the gauges' resolution, SI: for a reading one step of its gauge, for a figure the steps of
    /// all its readings added up, as bad as they can fall. 0 for what was set, which is as exact as it is typed.
    pub error: f64,
    /// The unit typed, for a value that was typed.
    pub unit: Option<UnitId>,
    /// Decimals typed.
    pub decimals: u8,
    /// The number, for a value that was typed.
    pub typed: Option<Span>,
    /// With how many decimals it is shown, for an estimate.
    pub estimated: Option<u8>,
    /// Whether it is just this.
    pub bound: Bound,
    /// The line that says it; `None` for the car's own declaration.
    pub line: Option<EntryId>,
    /// Which of how many numbers typed for the place it is (three temperatures across a tyre); the first of one where there are no others.
    pub number: (u8, u8),
    /// Of toe, over which diameter it is measured, metres: what its line says, else the car.
    pub over: Option<f64>,
}

impl Value {
    /// A limit in SI of the value: of toe, which is kept as an angle, a length is one over the diameter that this value was measured over,
    /// and of an axle the total of both wheels. `None` where nobody knows the diameter.
    #[must_use]
    pub fn limit(&self, unit: UnitId, limit: f64) -> Option<f64> {
        let si = unit.get().to_si(limit);
        if !self.is_length_of_toe(unit) {
            return Some(si);
        }
        let wheels = self.wheels();
        self.over.map(|over| wheels * toe::angle(si / wheels, over))
    }

    /// An SI value of its kind as a number of a unit.
    #[must_use]
    pub fn in_unit(&self, si: f64, unit: UnitId) -> f64 {
        match self.over.filter(|_| self.is_length_of_toe(unit)) {
            Some(over) => self.wheels() * toe::length(si / self.wheels(), over) / unit.get().factor,
            None => unit.get().from_si(si),
        }
    }

    /// A difference from it, SI, as a number of a unit.
    #[must_use]
    pub fn difference_in_unit(&self, difference: f64, unit: UnitId) -> f64 {
        self.in_unit(self.si + difference, unit) - self.in_unit(self.si, unit)
    }

    fn is_length_of_toe(&self, unit: UnitId) -> bool {
        self.dimension == DimensionId::TOE && unit.get().dim == DimensionId::LENGTH.get().dim
    }

    const fn wheels(&self) -> f64 {
        if self.place.is_axle() { 2.0 } else { 1.0 }
    }
}

/// A statement of the book that a rule can be held to.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Its line; of a figure the newest line under it. `None` for the car's own declaration.
    pub entry: Option<EntryId>,
    /// When; 0 for the declaration.
    pub rank: Rank,
    /// Its day.
    pub date: Option<Date>,
    /// The event it was taken at.
    pub event: Option<EventId>,
    /// Its values.
    pub values: Vec<Value>,
    /// A figure rather than a quantity.
    pub figure: bool,
    /// The lines it comes from.
    pub lines: Vec<EntryId>,
    /// The line that changed something since the readings under it were taken.
    pub stale: Option<EntryId>,
    /// Of what was worked out: when something under it was disturbed first since, and by which line.
    pub staled: Option<(Rank, EntryId)>,
    /// Of what is of one session alone, its `run`.
    pub of_session: Option<EntryId>,
    /// What somebody drove: a later one does not stand in its place.
    pub driven: bool,
    /// Of what was driven, that its value is the least it may be.
    pub open: Option<Open>,
    /// What stands beside a figure's value, in its own words: "run since it was filled: s1".
    pub careful: Vec<String>,
}

/// A session of which a figure that was had before it could not be had.
#[derive(Debug, Clone, PartialEq)]
pub struct Missed {
    /// Its `run`.
    pub run: EntryId,
    /// What it would need.
    pub why: Missing,
}

/// Why something was perhaps more than is known.
#[derive(Debug, Clone, PartialEq)]
pub struct Open {
    /// The session of which not all is told.
    pub missed: Missed,
    /// The most that it may be; `None` where nobody knows.
    pub most: Option<Value>,
}

/// Of each session, by when it began, why a figure could not be had of it; `None` where it could.
pub type Had = Vec<(Rank, Option<Missed>)>;

/// Every reading of a car for a rule, in order, with the readings of each place.
#[derive(Debug, Clone, Default)]
pub struct Readings {
    all: Vec<Reading>,
    /// By whether it is a figure, and by place: which of them state it.
    of: BTreeMap<(bool, Place), Vec<u32>>,
    had: Had,
}

impl Readings {
    /// The same readings, which stand in order.
    #[must_use]
    pub fn new(all: Vec<Reading>, had: Had) -> Self {
        let mut of: BTreeMap<(bool, Place), Vec<u32>> = BTreeMap::new();
        for (at, reading) in all.iter().enumerate() {
            for value in &reading.values {
                of.entry((reading.figure, value.place)).or_default().push(at as u32);
            }
        }
        Self { all, of, had }
    }

    /// The last session that began in the range, where the figure could not be had of it.
    #[must_use]
    pub fn missed(&self, from: Rank, until: Rank) -> Option<&Missed> {
        let (at, missed) = sorted::until(&self.had, |(at, _)| *at < until).last()?;
        missed.as_ref().filter(|_| from <= *at)
    }

    /// How many of them there are before a rank; the car's own declaration is always before.
    #[must_use]
    pub fn before(&self, rank: Rank) -> usize {
        self.all.partition_point(|reading| reading.entry.is_none() || reading.rank < rank)
    }

    /// Which of the first `count` stated each place last, the last of them first; only readings of the same sort.
    #[must_use]
    pub fn last_of_places(&self, figure: bool, count: usize) -> Vec<&Reading> {
        let of = self.of.range((figure, Place::CAR)..).take_while(|((of, _), _)| *of == figure);
        let last = |list: &Vec<u32>| sorted::until(list, |at| (*at as usize) < count).last().copied();
        let mut lasts: Vec<u32> = of.filter_map(|(_, list)| last(list)).collect();
        lasts.sort_unstable_by(|a, b| b.cmp(a));
        lasts.dedup();
        lasts.into_iter().filter_map(|at| self.all.get(at as usize)).collect()
    }
}

impl Deref for Readings {
    type Target = [Reading];

    fn deref(&self) -> &[Reading] {
        &self.all
    }
}

/// Of which car, what a rule limits and where.
pub type Key = (CarId, Option<QuantityId>, String, Vec<Place>);

/// What was read of each car for each rule of a book, worked out when first asked for: many checks and pages ask.
#[derive(Debug, Default)]
pub struct Known(Mutex<BTreeMap<Key, Arc<OnceLock<Arc<Readings>>>>>);

impl Known {
    /// The list of that key, to be filled by whoever asks first.
    pub(super) fn at(&self, key: Key) -> Arc<OnceLock<Arc<Readings>>> {
        let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        Arc::clone(all.entry(key).or_default())
    }
}
