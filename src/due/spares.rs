//! Which spare goes where: scarce spares are shared among the cars in date order, then by the chance of losing sessions.
//!
//! Must not know words.

use super::fitted::{Fitted, goes_there};
use super::limits::reaches;
use super::plan::CarPlan;
use super::row::{Action, Makings, Row};
use crate::book::Book;
use crate::book::model::{CarId, Clock, EventId, KindId, PartId};
use crate::history::History;
use crate::history::dated::of_part;
use crate::history::order::Rank;
use crate::history::parts::Where;
use crate::lives::{End, Lives};
use jiff::civil::Date;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// What the shelf has for a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Spare {
    /// This one.
    Given(PartId),
    /// Those that fit go elsewhere; where the first of them goes.
    Taken(Promise),
    /// Some would fit, but none has enough life left for what is planned; the best of them.
    TooOld(PartId),
    /// None fits.
    None,
    /// Nothing is asked for.
    NotAsked,
}

/// Where a spare goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Promise {
    /// The place.
    pub to: Fitted,
    /// The first event that its car goes to.
    pub event: Option<EventId>,
}

/// Which spares are promised, and where to.
pub type Promised = BTreeMap<PartId, Promise>;

/// A good part on the shelf and what it has left.
#[derive(Debug, Clone, Copy)]
pub struct Ready {
    /// The part.
    pub part: PartId,
    /// Before its own limits, in multiples of what is planned for the car it would go on; endless without limits.
    pub left: f64,
}

/// Whether a part on the shelf may go on: good, and in date to a day where the book can say.
#[must_use]
pub fn good(book: &Book, history: &History, lives: &Lives, part: PartId, (cut, end): (Rank, Date)) -> bool {
    // One that was sold lies with its owner, and is offered to his cars alone.
    lives.now(part).is_some_and(|life| life.may_run() || life.end == End::Good(Where::Sold))
        && of_part(book, history, part, cut).is_none_or(|dated| {
            dated.impact.is_none() && !dated.lost && dated.last_good_day.is_none_or(|day| end <= day)
        })
}

/// What a spare has left on a car before its own limits, in multiples of what is planned.
#[must_use]
pub fn left(with: Makings<'_>, car: &CarPlan, spare: PartId) -> Option<f64> {
    if !with.history.parts.may_go_on(with.book, spare, car.car, with.plan.cut) {
        return None;
    }
    if with.book.limits_lost(spare) {
        return Some(0.0);
    }
    let life = with.lives.now(spare)?;
    let end = with.plan.end;
    let least = reaches(with.book, life, car, with.plan.today, end).map(|reach| {
        // A spare on the shelf that has never been fitted does not age by the calendar until it is.
        let unknown = reach.now.at_least && reach.limit.clock != Clock::Months;
        if unknown { 0.0 } else { reach.plans_left() }
    });
    Some(least.fold(f64::MAX, f64::min))
}

/// The good parts of a kind on the shelf, with what each has left on that car.
#[must_use]
pub fn ready(with: Makings<'_>, kind: KindId, car: &CarPlan) -> Vec<Ready> {
    let one = |part: &PartId| Some(Ready { part: *part, left: left(with, car, *part)? });
    with.there.ready(kind).iter().filter_map(one).collect()
}

/// The spares of every row, in the order of the rows. A spare goes to one row; rows choose in the order of the first event of their
/// car, then the most pressing action, then the greatest chance of failing, then the order of the list.
#[must_use]
pub fn share(with: Makings<'_>, rows: &[Row]) -> Vec<Spare> {
    let plan = |car: CarId| with.plan.of(car);
    let first_day = |row: &Row| {
        let event = plan(row.fitted.car).and_then(|plan| plan.events.first());
        event.map(|event| with.book.events[*event].first)
    };
    let mut spares = vec![Spare::NotAsked; rows.len()];
    let mut turns: Vec<(usize, &Row, &mut Spare)> = (rows.iter().zip(&mut spares).enumerate())
        .map(|(at, (row, spare))| (at, row, spare))
        .filter(|(_, row, _)| asks(row))
        .collect();
    turns.sort_by(|(a, one, _), (b, other, _)| {
        first_day(one)
            .cmp(&first_day(other))
            .then(one.action.cmp(&other.action))
            .then(other.chance.likely().unwrap_or(0.0).total_cmp(&one.chance.likely().unwrap_or(0.0)))
            .then(a.cmp(b))
    });
    // What a spare has left depends on the car only.
    let asked: BTreeSet<(CarId, KindId)> =
        turns.iter().map(|(_, row, _)| (row.fitted.car, row.fitted.kind)).collect();
    let shelf: Vec<((CarId, KindId), Vec<Ready>)> = asked
        .into_par_iter()
        .filter_map(|(car, kind)| Some(((car, kind), ready(with, kind, plan(car)?))))
        .collect();
    let shelf: BTreeMap<(CarId, KindId), Vec<Ready>> = shelf.into_iter().collect();
    let mut taker: BTreeMap<PartId, Promise> = BTreeMap::new();
    for (_, row, spare_of_row) in turns {
        let own = shelf.get(&(row.fitted.car, row.fitted.kind)).filter(|_| fits(with, row));
        let fits = own.map_or(&[][..], Vec::as_slice);
        // The spec that is on the car first, then the most life left, then the order of the book.
        let spec = spec(with, row.fitted.part);
        let best = |list: &mut dyn Iterator<Item = &Ready>| {
            let least = list.min_by(|a, b| {
                let other = |spare: &Ready| self::spec(with, Some(spare.part)) != spec;
                other(a).cmp(&other(b)).then(b.left.total_cmp(&a.left)).then(a.part.cmp(&b.part))
            });
            least.map(|spare| spare.part)
        };
        let able = || fits.iter().filter(|spare| spare.left >= 1.0);
        *spare_of_row =
            if let Some(spare) = best(&mut able().filter(|spare| !taker.contains_key(&spare.part))) {
                taker.insert(spare, promise(with, row));
                Spare::Given(spare)
            } else if let Some(taken) = able().find_map(|spare| taker.get(&spare.part)) {
                Spare::Taken(*taken)
            } else {
                best(&mut fits.iter()).map_or(Spare::None, Spare::TooOld)
            };
    }
    spares
}

/// A spare that goes where a row is.
#[must_use]
pub fn promise(with: Makings<'_>, row: &Row) -> Promise {
    let event = with.plan.of(row.fitted.car).and_then(|plan| plan.events.first().copied());
    Promise { to: row.fitted, event }
}

/// Whether a row wants a part from the shelf.
#[must_use]
pub const fn asks(row: &Row) -> bool {
    matches!(row.action, Action::Fit | Action::Replace | Action::Carry)
}

/// Whether spares of its kind may go where the row is: the kind goes there, or into the assembly.
pub(super) fn fits(with: Makings<'_>, row: &Row) -> bool {
    // Left- and right-handed specs and gears of other teeth are the shop's to tell apart: a kind is what interchanges.
    row.fitted.inside.is_some() || goes_there(with.book, row.fitted.kind, row.fitted.car, row.fitted.place)
}

fn spec(with: Makings<'_>, part: Option<PartId>) -> Option<crate::book::model::SpecId> {
    part.and_then(|part| with.book.parts.get(part)).and_then(|part| part.spec)
}
