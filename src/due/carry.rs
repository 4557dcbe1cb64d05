//! How many spares of a kind to take along for a stated confidence: failures in what is planned, place by place, by renewal.
//!
//! A wear-out part that has been renewed will hardly fail at once again, so failures are counted from each part's own age and
//! added over the places (Cox, *Renewal Theory*); a Poisson count on the mean would ask for too many.
//!
//! Must not know words.

use super::chance::Bases;
use super::plan::CarPlan;
use super::row::{Action, Makings, Row};
use super::spares::{Promised, Spare, fits, left};
use crate::book::model::{CarId, KindId, PartId};
use crate::statistics::renewal::{counts, spares, together};
use crate::statistics::weibull::Weibull;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// More failures of one kind at one event are not counted.
const MOST: usize = 12;

/// Spares of a kind to take along.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Carry {
    /// The kind.
    pub kind: KindId,
    /// Places it is counted for.
    pub places: usize,
    /// Places left out: nothing is known to count by.
    pub unknown: usize,
    /// How many to take along; `None` where more than can be counted, or where nothing is there to count by (no `places`).
    pub wanted: Option<usize>,
    /// How many of those places are counted at a constant rate, for want of a distribution that fits.
    pub constant: usize,
    /// How many places the list asks one to be taken along for.
    pub asked: usize,
    /// Those the list fits before the event.
    pub fitted: Vec<PartId>,
    /// Good ones on the shelf beyond those, promised to nobody else, with life enough for one of those cars; those that the list names in front.
    pub ready: Vec<PartId>,
}

/// The kinds on the planned cars of which something ever failed or one is fitted before the event, in the order of the book.
#[must_use]
pub fn carry(
    with: Makings<'_>,
    bases: &Bases,
    rows: &[Row],
    shared: (&[Spare], &Promised),
    confidence: f64,
) -> Vec<Carry> {
    let mut kinds: BTreeMap<KindId, Vec<(usize, &Row)>> = BTreeMap::new();
    for (at, row) in rows.iter().enumerate() {
        kinds.entry(row.fitted.kind).or_default().push((at, row));
    }
    let one =
        |(kind, own): (KindId, Vec<(usize, &Row)>)| of_kind(with, bases, &own, shared, kind, confidence);
    kinds.into_par_iter().filter_map(one).collect()
}

fn of_kind(
    with: Makings<'_>,
    bases: &Bases,
    own: &[(usize, &Row)],
    (given, promised): (&[Spare], &Promised),
    kind: KindId,
    confidence: f64,
) -> Option<Carry> {
    let known: Vec<Place> =
        own.iter().filter_map(|(at, row)| place(with, bases, row, given.get(*at))).collect();
    let unknown = own.len() - known.len();
    let constant = known.iter().filter(|place| !place.fitted).count();
    // Parts that went on together are alike, and are counted once.
    let alike: BTreeMap<_, Place> = known.iter().map(|place| (place.key(), *place)).collect();
    let counted: BTreeMap<_, Vec<f64>> =
        alike.into_par_iter().map(|(key, place)| (key, place.chances())).collect();
    let places: Vec<Vec<f64>> = known.iter().filter_map(|place| counted.get(&place.key()).cloned()).collect();
    let given = |wanted: &dyn Fn(Action) -> bool| -> Vec<PartId> {
        let rows = own.iter().filter(|(_, row)| wanted(row.action));
        let spares = rows.filter_map(|(at, _)| match given.get(*at) {
            Some(Spare::Given(part)) => Some(*part),
            _ => None,
        });
        spares.collect()
    };
    let fitted = given(&|action| matches!(action, Action::Fit | Action::Replace));
    let named = given(&|action| action == Action::Carry);
    let goes: BTreeSet<CarId> =
        own.iter().filter(|(_, row)| fits(with, row)).map(|(_, row)| row.fitted.car).collect();
    let told: BTreeSet<PartId> = fitted.iter().chain(&named).copied().collect();
    let cars: Vec<&CarPlan> = with.plan.cars.iter().filter(|car| goes.contains(&car.car)).collect();
    let lasts = |part: &PartId| cars.iter().any(|car| left(with, car, *part).is_some_and(|left| left >= 1.0));
    let shelf = with.there.ready(kind).par_iter().copied();
    let others: Vec<PartId> =
        shelf.filter(|part| !told.contains(part) && !promised.contains_key(part) && lasts(part)).collect();
    let ready: Vec<PartId> = named.into_iter().chain(others).collect();
    let asked = own.iter().filter(|(_, row)| row.action == Action::Carry).count();
    let wanted = if places.is_empty() { None } else { spares(&together(&places), confidence) };
    let told = !places.is_empty() || !fitted.is_empty();
    told.then_some(Carry { kind, places: places.len(), unknown, wanted, constant, asked, fitted, ready })
}

impl Carry {
    /// How many to take along: as many as are wanted, or as the list asks for. `None` where that cannot be said.
    #[must_use]
    pub fn take(&self) -> Option<usize> {
        let counted = self.wanted.map(|wanted| wanted.max(self.asked));
        counted.or_else(|| (self.places == 0 && self.asked > 0).then_some(self.asked))
    }

    /// How many of those are not there.
    #[must_use]
    pub fn short(&self) -> usize {
        self.take().unwrap_or(0).saturating_sub(self.ready.len())
    }
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
    let car = with.plan.of(row.fitted.car)?;
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
