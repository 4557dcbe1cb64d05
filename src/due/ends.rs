//! What readings over hours lead to: when a straight line through those taken alike reaches the bad end of what is usual on the car, or
//! the least that its book states.
//!
//! Hours are told from the moment of the list: what the car ran since the last reading is taken off. Must not know words.

use super::plan::Plan;
use super::trend::{self, End, HOUR, Hours, Points, READ, ReadOverHours};
use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::entry::Verb;
use crate::book::model::{CarId, Clock, KindId, PartId, Work};
use crate::book::place::Place;
use crate::book::range::Says;
use crate::figures::Calc;
use crate::history::order::Rank;
use crate::history::{Facts, Moment};
use crate::statistics::reach::{Reach, Slope, reach, slope};
use crate::trials::effect::LEVEL;
use crate::vocabulary::QuantityId;

/// Fewer readings are no line with a scatter.
pub const LEAST: usize = 3;

/// Something read over hours.
#[derive(Debug, Clone)]
pub struct Trend {
    /// The car.
    pub car: CarId,
    /// What is read.
    pub quantity: QuantityId,
    /// Where.
    pub place: Place,
    /// By which hours.
    pub by: Hours,
    /// The readings, oldest first, SI, each with its line.
    pub readings: Vec<(EntryId, f64)>,
    /// Whether older ones are of another part or another state.
    pub anew: bool,
    /// Whether what is told is a figure made of what was typed, in the figure's own unit.
    pub worked_out: bool,
    /// The line through them, SI an hour; `None` of too few readings.
    pub slope: Option<Slope>,
    /// When it ends.
    pub end: Result<Ending, NoEnd>,
}

/// Why no end is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoEnd {
    /// Fewer than [`LEAST`] readings.
    Few,
    /// The slope cannot be told from nothing, or leads away from what is bad.
    NotForeseen,
    /// Nobody says where it ends.
    NoLimit,
}

/// Something that comes to an end.
#[derive(Debug, Clone)]
pub struct Ending {
    /// The end it comes to, SI, and who says so.
    pub limit: (f64, Limit),
    /// By how much it rises in an hour, SI.
    pub slope: f64,
    /// Until it does, h: the earliest, the likely, the latest; from the last reading, less `since`. Under nought it may be there already.
    pub hours: [f64; 3],
    /// What the car ran since the last reading, h; `None` where nobody knows, and nothing is taken off.
    pub since: Option<f64>,
    /// What the car is expected to run until the event is over, h; `None` where nobody knows.
    pub ahead: Option<f64>,
    /// Parts that may be the engine, or of it, that were fitted or rebuilt since the first reading: of another engine it says nothing.
    pub renewed: Vec<PartId>,
}

/// Who says where it ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limit {
    /// What is usual.
    Usual(Says),
    /// What the book states under this quantity.
    Stated(QuantityId),
}

impl Trend {
    /// Whether it may come to its end before the event is over; where nobody knows how much will be run, or was since the last reading, any
    /// that has an end.
    #[must_use]
    pub fn is_soon(&self) -> bool {
        self.end
            .as_ref()
            .is_ok_and(|end| end.ahead.zip(end.since).is_none_or(|(ahead, _)| end.hours[0] <= ahead))
    }
}

/// What was read over hours of the planned cars.
#[must_use]
pub fn trends(facts: Facts<'_>, plan: &Plan) -> Vec<Trend> {
    let mut list = Vec::new();
    for planned in &plan.cars {
        let cylinders = cylinders(facts.book, planned.car);
        let ahead = planned.expected(Clock::Time).map(|seconds| seconds / HOUR);
        for kept in &READ {
            let places = if kept.by == Hours::Engine { cylinders.as_slice() } else { &Place::CORNERS };
            list.extend(
                places
                    .iter()
                    .filter_map(|place| of_place(facts, (planned.car, plan.cut), kept, *place, ahead)),
            );
        }
    }
    list
}

/// The cylinders of a car.
#[must_use]
pub fn cylinders(book: &Book, car: CarId) -> Vec<Place> {
    let count = book.cars.get(car).and_then(|car| car.cylinders).unwrap_or(0);
    (1..=count).map(Place::cylinder).collect()
}

/// What was read of a car's cylinders over its engine's hours before a rank, whatever is planned.
#[must_use]
pub fn of_engine(facts: Facts<'_>, car: CarId, cut: Rank, kept: &ReadOverHours) -> Vec<Trend> {
    let places = cylinders(facts.book, car);
    places.into_iter().filter_map(|place| of_place(facts, (car, cut), kept, place, None)).collect()
}

/// `None` where nothing was read.
fn of_place(
    facts: Facts<'_>,
    (car, cut): (CarId, Rank),
    kept: &ReadOverHours,
    place: Place,
    ahead: Option<f64>,
) -> Option<Trend> {
    let quantity = facts.book.vocabulary.find(kept.name)?;
    let found = trend::points(facts, car, cut, kept, place);
    if found.lines.is_empty() {
        return None;
    }
    let readings = found.lines.iter().copied().zip(found.points.iter().map(|(_, value)| *value)).collect();
    let end = ending(facts, (car, cut), kept, (quantity, place), &found, ahead);
    let slope = slope(&found.points, found.grain, 1.0 - LEVEL);
    let worked_out = kept.figure.is_some();
    Some(Trend { car, quantity, place, by: kept.by, readings, anew: found.anew, worked_out, slope, end })
}

fn ending(
    facts: Facts<'_>,
    (car, cut): (CarId, Rank),
    kept: &ReadOverHours,
    (quantity, place): (QuantityId, Place),
    found: &Points,
    ahead: Option<f64>,
) -> Result<Ending, NoEnd> {
    if found.points.len() < LEAST {
        return Err(NoEnd::Few);
    }
    let ends = match kept.bad {
        End::Either => [Some(End::Low), Some(End::High)],
        one => [Some(one), None],
    };
    let mut why = NoEnd::NotForeseen;
    for bad in ends.into_iter().flatten() {
        let Some((limit, says)) = limit(facts, (car, cut), kept, (quantity, place), bad) else {
            why = NoEnd::NoLimit;
            continue;
        };
        let Some(Reach::Between { low, likely, high, slope }) =
            reach(&found.points, limit, found.grain, 1.0 - LEVEL)
        else {
            continue;
        };
        // One that gets better has no bad end.
        if (slope > 0.0) != (bad == End::High) {
            continue;
        }
        let (Some((last, _)), Some(first), Some(newest)) =
            (found.points.last().copied(), found.ranks.first(), found.ranks.last())
        else {
            continue;
        };
        let since = trend::running_between(facts, car, *newest, cut);
        let from_now = |at: f64| at - last - since.unwrap_or(0.0);
        let of_engine = kept.by == Hours::Engine;
        return Ok(Ending {
            limit: (limit, says),
            slope,
            hours: [from_now(low), from_now(likely), from_now(high)],
            since,
            ahead,
            renewed: if of_engine { renewed(facts, car, [*first, cut]) } else { Vec::new() },
        });
    }
    Err(why)
}

/// Where it ends: what the book states, else the bad end of what is usual.
fn limit(
    facts: Facts<'_>,
    (car, cut): (CarId, Rank),
    kept: &ReadOverHours,
    (quantity, place): (QuantityId, Place),
    bad: End,
) -> Option<(f64, Limit)> {
    let stated = kept.limit.and_then(|name| facts.book.vocabulary.find(name));
    if let Some(of) = stated
        && let Some(slot) = facts.on(car, cut).slot(of, place)
    {
        // A least that an error makes unknown is not the usual one either.
        let held = slot.held.is(facts.history).filter(|_| slot.held.unknown.is_none())?;
        let item = facts.history.item(facts.book, slot.track, &held)?;
        return item.has_value().then_some((held.value, Limit::Stated(of)));
    }
    // What the part that is there is tagged with.
    let tagged = stated.and_then(|of| {
        let name = &facts.book.vocabulary.get(of).name;
        let fig = Calc::new(facts, car, &Moment::of_rank(cut)).typed_value(name, place).ok()?;
        Some((fig.value, Limit::Stated(of)))
    });
    if tagged.is_some() {
        return tagged;
    }
    let usual = facts.book.normal(Some(car), quantity, place).usual?;
    Some((if bad == End::High { usual.high } else { usual.low }, Limit::Usual(usual.says)))
}

/// The parts of [`renewals`] between two ranks.
fn renewed(facts: Facts<'_>, car: CarId, [from, until]: [Rank; 2]) -> Vec<PartId> {
    let inside = |(rank, part): (Rank, PartId)| (rank > from && rank < until).then_some(part);
    let mut found: Vec<PartId> = renewals(facts, car).into_iter().filter_map(inside).collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// When parts that may be the engine, or of it, were fitted or rebuilt, in order: at a cylinder, or what is rebuilt or built of
/// others, where it is at no corner, axle or gear. (A shop calls the place of an engine what it likes.)
#[must_use]
pub fn renewals(facts: Facts<'_>, car: CarId) -> Vec<(Rank, PartId)> {
    let (book, parts) = (facts.book, &facts.history.parts);
    let of_car = |place: Place| {
        !(place == Place::ALL || place.is_corner() || place.is_axle() || place.gear_number().is_some())
    };
    let mut found: Vec<(Rank, PartId)> = Vec::new();
    for (kind, place) in parts.places_of(car).iter().filter(|(_, place)| of_car(*place)) {
        let whole = is_rebuilt(book, *kind) || book.kinds.iter().any(|other| other.inside.contains(kind));
        for (begun, ended, part) in parts.occupants.get(&(car, *kind, *place)).into_iter().flatten() {
            let rebuilds = &parts.get(*part).rebuilds;
            if whole || !rebuilds.is_empty() || place.cylinder_number().is_some() {
                let while_on =
                    rebuilds.iter().map(|one| one.rank).filter(|rank| rank >= begun && rank < ended);
                found.extend(std::iter::once(*begun).chain(while_on).map(|rank| (rank, *part)));
            }
        }
    }
    found.sort_unstable();
    found
}

/// Whether parts of a kind are rebuilt after so much.
fn is_rebuilt(book: &Book, kind: KindId) -> bool {
    let every = book.kinds.get(kind).map(|kind| kind.every.as_slice()).unwrap_or_default();
    every.iter().any(|one| one.work == Work::Part(Verb::Rebuild))
}
