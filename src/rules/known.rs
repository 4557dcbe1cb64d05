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
use std::collections::BTreeMap;
use std::ops::Deref;
use std::sync::Arc;

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

/// What a rule limits and where.
type Key = (Option<Subject>, String, Vec<Place>);

/// The readings of one car that were asked for so far.
#[derive(Debug, Default)]
pub struct Known {
    all: BTreeMap<(String, Vec<Place>), Vec<(Option<Subject>, Arc<Readings>)>>,
}

impl Known {
    /// Every reading of the car for a rule, in order.
    pub fn of(&mut self, scrutiny: &Scrutiny<'_>, car: CarId, rule: &Rule) -> Arc<Readings> {
        let (subject, name, places) = key(scrutiny, rule);
        let list = self.all.entry((name, places)).or_default();
        if let Some((_, known)) = list.iter().find(|(known, _)| *known == subject) {
            return Arc::clone(known);
        }
        let made = {
            let (all, had) = scrutiny.readings_and_had(car, rule);
            Arc::new(Readings::new(all, had))
        };
        list.push((subject, Arc::clone(&made)));
        made
    }
}

/// A figure is the same wherever its name is typed.
fn key(scrutiny: &Scrutiny<'_>, rule: &Rule) -> Key {
    let quantity = rule.subject.filter(|subject| matches!(subject, Subject::Quantity(_)));
    (quantity, folded(scrutiny.name(rule)), rule.places.clone())
}
