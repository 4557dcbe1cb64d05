//! How many spares of a kind to take along for a stated confidence: failures in what is planned, place by place, by renewal.
//!
//! A wear-out part that has been renewed will hardly fail at once again, so failures are counted from each part's own age and
//! added over the places (Cox, *Renewal Theory*); a Poisson count on the mean would ask for too many.
//!
//! Must not know words.

use super::chance::Bases;
use super::fitted::goes_there;
use super::row::{Action, Makings, Row};
use super::spares::Spare;
use crate::book::model::KindId;
use crate::statistics::renewal::{counts, spares, together};
use crate::statistics::weibull::Weibull;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// More failures of one kind at one event are not counted.
const MOST: usize = 12;

/// Spares of a kind to take along.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Carry {
    /// The kind.
    pub kind: KindId,
    /// Places it is counted for.
    pub places: usize,
    /// Places left out: nothing is known to count by.
    pub unknown: usize,
    /// How many to take along; `None` where nothing could be counted.
    pub wanted: Option<usize>,
    /// Counted at a constant rate somewhere, for want of a distribution that fits.
    pub constant: bool,
    /// How many good ones lie ready that go on one of those cars, beyond those the list fits before the event.
    pub ready: usize,
}

/// The kinds on the planned cars of which something ever failed, in the order of the book.
#[must_use]
pub fn carry(with: Makings<'_>, bases: &Bases, rows: &[Row], given: &[Spare], confidence: f64) -> Vec<Carry> {
    let kinds: BTreeSet<KindId> = rows.iter().map(|row| row.fitted.kind).collect();
    kinds.into_par_iter().filter_map(|kind| of_kind(with, bases, rows, given, kind, confidence)).collect()
}

fn of_kind(
    with: Makings<'_>,
    bases: &Bases,
    rows: &[Row],
    given: &[Spare],
    kind: KindId,
    confidence: f64,
) -> Option<Carry> {
    let own: Vec<(usize, &Row)> =
        rows.iter().enumerate().filter(|(_, row)| row.fitted.kind == kind).collect();
    let known: Vec<Place> =
        own.iter().filter_map(|(at, row)| place(with, bases, row, given.get(*at))).collect();
    let unknown = own.len() - known.len();
    let constant = known.iter().any(|place| !place.fitted);
    // Parts that went on together are alike, and are counted once.
    let alike: BTreeMap<_, Place> = known.iter().map(|place| (place.key(), *place)).collect();
    let counted: BTreeMap<_, Vec<f64>> =
        alike.into_par_iter().map(|(key, place)| (key, place.chances())).collect();
    let places: Vec<Vec<f64>> = known.iter().filter_map(|place| counted.get(&place.key()).cloned()).collect();
    let used: BTreeSet<_> = own
        .iter()
        .filter(|(_, row)| matches!(row.action, Action::Fit | Action::Replace))
        .filter_map(|(at, _)| match given.get(*at) {
            Some(Spare::Given(part)) => Some(*part),
            _ => None,
        })
        .collect();
    let goes = |part: &crate::book::model::PartId| {
        let good = with.lives.now(*part).is_some_and(crate::lives::Life::may_run);
        let fits = own.iter().any(|(_, row)| {
            row.fitted.inside.is_some() || goes_there(with.book, kind, row.fitted.car, row.fitted.place)
        });
        good && fits && !used.contains(part)
    };
    let ready = with.there.ready(kind).iter().filter(|part| goes(part)).count();
    (!places.is_empty()).then(|| {
        let wanted = spares(&together(&places), confidence);
        Carry { kind, places: places.len(), unknown, wanted, constant, ready }
    })
}

/// What failures at one place are counted from.
#[derive(Debug, Clone, Copy)]
struct Place {
    life: Weibull,
    /// Whether that is fitted, or a constant rate for want of it.
    fitted: bool,
    age: f64,
    more: f64,
}

impl Place {
    fn key(&self) -> [u64; 4] {
        [self.life.shape, self.life.scale, self.age, self.more].map(f64::to_bits)
    }

    /// The chances of 0, 1, ... failures in what is planned.
    fn chances(&self) -> Vec<f64> {
        // Where so many fail that they cannot be counted, none of the small numbers is to be expected.
        counts(&self.life, self.age, self.more, MOST).unwrap_or_else(|| vec![0.0; MOST + 1])
    }
}

/// What failures at a row's place are counted from; `None` where that is not known.
fn place(with: Makings<'_>, bases: &Bases, row: &Row, given: Option<&Spare>) -> Option<Place> {
    let car = with.plan.cars.iter().find(|plan| plan.car == row.fitted.car)?;
    // What will be there: the spare that goes on before the event, or what is there now.
    let part = match (row.action, given) {
        (Action::Fit | Action::Replace, Some(Spare::Given(spare))) => Some(*spare),
        (Action::Fit, _) => None,
        _ => row.fitted.part,
    }?;
    let group = bases.group(with.book, part)?;
    let (life, fitted) = bases.get(group)?.distribution()?;
    let age = with.lives.now(part)?.on(with.book, group.clock);
    let more = car.expected(group.clock)?;
    (!age.at_least).then_some(Place { life, fitted, age: age.value, more })
}
