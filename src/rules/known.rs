//! What was read of a car, kept for every rule that asks: rules of one thing and the same places share one list.
//!
//! Must not know limits.

use super::Scrutiny;
use super::reading::{Had, Missed, Reading};
use crate::book::model::{CarId, Rule, Subject};
use crate::book::names::folded;
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::sorted;
use crate::vocabulary::QuantityId;
use std::collections::BTreeMap;
use std::ops::Deref;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

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
type Key = (CarId, Option<QuantityId>, String, Vec<Place>);

/// What was read of each car for each rule of a book, worked out when first asked for: many checks and pages ask.
#[derive(Debug, Default)]
pub struct Known(Mutex<BTreeMap<Key, Arc<OnceLock<Arc<Readings>>>>>);

impl Known {
    fn at(&self, key: Key) -> Arc<OnceLock<Arc<Readings>>> {
        let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        Arc::clone(all.entry(key).or_default())
    }
}

impl Scrutiny<'_> {
    /// Every reading of a car for a rule, in order.
    #[must_use]
    pub fn readings(&self, car: CarId, rule: &Rule) -> Arc<Readings> {
        // Others may ask for another list meanwhile.
        let kept = self.known.at(self.key(car, rule));
        let made = || {
            let (all, had) = self.readings_and_had(car, rule);
            Arc::new(Readings::new(all, had))
        };
        Arc::clone(kept.get_or_init(made))
    }

    /// A figure is the same wherever its name is typed.
    fn key(&self, car: CarId, rule: &Rule) -> Key {
        let quantity = rule.subject.and_then(|subject| match subject {
            Subject::Quantity(id) => Some(id),
            Subject::Figure(_) => None,
        });
        (car, quantity, folded(self.name(rule)), rule.places.clone())
    }
}
