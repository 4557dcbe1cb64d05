//! Which spare goes where: scarce spares are shared among the cars in date order, then by the chance of losing sessions.
//!
//! Must not know words.

use super::fitted::goes_there;
use super::row::{Action, Makings, Row};
use crate::book::model::{CarId, Clock, PartId};
use crate::history::dated::of_part;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// What the shelf has for a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Spare {
    /// This one.
    Given(PartId),
    /// Those that fit go to other rows; the first of those rows, by index.
    Taken(usize),
    /// Some would fit, but none has enough life left for what is planned; the best of them.
    TooOld(PartId),
    /// None fits.
    None,
    /// Nothing is asked for.
    NotAsked,
}

/// What a spare has left before its own limits, in multiples of what is planned for the car it would go on; endless without limits.
#[must_use]
pub fn plans_left(with: Makings<'_>, car: CarId, spare: PartId) -> Option<f64> {
    let car = with.plan.cars.iter().find(|plan| plan.car == car)?;
    let life = with.lives.now(spare)?;
    let end = with.book.events[with.plan.event.0 as usize].last;
    let reaches = super::limits::reaches(with.book, life, car, with.plan.today, end);
    let least = reaches.iter().map(|reach| {
        // A spare on the shelf that has never been fitted does not age by the calendar until it is.
        let unknown = reach.now.at_least && reach.limit.clock != Clock::Months;
        if unknown { 0.0 } else { reach.plans_left() }
    });
    Some(least.fold(f64::MAX, f64::min))
}

/// The spares of every row, in the order of the rows. A spare goes to one row; rows choose in the order of the first event of their
/// car, then the most pressing action, then the greatest chance of failing, then the order of the list.
#[must_use]
pub fn share(with: Makings<'_>, rows: &[Row]) -> Vec<Spare> {
    let first_day = |row: &Row| {
        let plan = with.plan.cars.iter().find(|plan| plan.car == row.fitted.car);
        plan.and_then(|plan| plan.events.first()).map(|event| with.book.events[event.0 as usize].first)
    };
    let mut turns: Vec<usize> = (0..rows.len()).filter(|at| asks(&rows[*at])).collect();
    turns.sort_by(|a, b| {
        let (one, other) = (&rows[*a], &rows[*b]);
        first_day(one)
            .cmp(&first_day(other))
            .then(one.action.cmp(&other.action))
            .then(other.chance.likely().unwrap_or(0.0).total_cmp(&one.chance.likely().unwrap_or(0.0)))
            .then(a.cmp(b))
    });
    let mut given: BTreeSet<PartId> = BTreeSet::new();
    let mut taker: BTreeMap<PartId, usize> = BTreeMap::new();
    let mut spares = vec![Spare::NotAsked; rows.len()];
    for at in turns {
        let row = &rows[at];
        let fits: Vec<PartId> = with
            .there
            .ready(row.fitted.kind)
            .iter()
            .copied()
            .filter(|spare| fits(with, row, *spare))
            .collect();
        let enough =
            |spare: &PartId| plans_left(with, row.fitted.car, *spare).is_some_and(|left| left >= 1.0);
        let best = |list: &[PartId]| {
            // The spec that is on the car first, then the most life left, then the order of the book.
            list.iter().copied().min_by(|a, b| {
                let other_spec = |spare: &PartId| spec(with, Some(*spare)) != spec(with, row.fitted.part);
                let left = |spare: PartId| plans_left(with, row.fitted.car, spare).unwrap_or(0.0);
                other_spec(a).cmp(&other_spec(b)).then(left(*b).total_cmp(&left(*a))).then(a.cmp(b))
            })
        };
        let able: Vec<PartId> = fits.iter().copied().filter(enough).collect();
        let free: Vec<PartId> = able.iter().copied().filter(|spare| !given.contains(spare)).collect();
        spares[at] = if let Some(spare) = best(&free) {
            given.insert(spare);
            taker.insert(spare, at);
            Spare::Given(spare)
        } else if let Some(spare) = able.first() {
            Spare::Taken(taker.get(spare).copied().unwrap_or(at))
        } else {
            best(&fits).map_or(Spare::None, Spare::TooOld)
        };
    }
    spares
}

/// Whether a row wants a part from the shelf.
#[must_use]
pub const fn asks(row: &Row) -> bool {
    matches!(row.action, Action::Fit | Action::Replace | Action::Carry)
}

/// Whether a spare may go where the row is: its kind goes there, or into the assembly, it is good, and in date
/// to the end of the event where the book can say.
fn fits(with: Makings<'_>, row: &Row, spare: PartId) -> bool {
    let end = with.book.events[with.plan.event.0 as usize].last;
    let dated = of_part(with.book, with.history, spare, with.plan.cut);
    let in_date = dated.is_none_or(|dated| dated.last_good_day.is_none() || dated.is_good_on(end));
    let good = in_date && with.lives.now(spare).is_some_and(crate::lives::Life::may_run);
    let there = row.fitted.inside.is_some()
        || goes_there(with.book, row.fitted.kind, row.fitted.car, row.fitted.place);
    // Left- and right-handed specs and gears of other teeth are the shop's to tell apart: a kind is what interchanges.
    good && there
}

fn spec(with: Makings<'_>, part: Option<PartId>) -> Option<crate::book::model::SpecId> {
    part.and_then(|part| with.book.parts.get(part.0 as usize)).and_then(|part| part.spec)
}
