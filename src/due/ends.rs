//! What an engine's readings lead to: at what hours a line through those taken alike reaches the bad end of what is usual on the car.
//!
//! Hours are told from the moment of the list: what the car ran since the last reading is taken off. Where the meter goes back a new meter
//! begins, and a new line; where a kind carries the quantity, another part or a rebuild does (`slots::carrying`). Must not know words.

use super::plan::Plan;
use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::{CarId, Clock, KindId, PartId, Work};
use crate::book::place::Place;
use crate::book::range::Limits;
use crate::figures::{Calc, alike_over_hours};
use crate::history::order::Rank;
use crate::history::{Facts, Moment, usage};
use crate::statistics::reach::{Reach, reach};
use crate::trials::effect::LEVEL;
use crate::vocabulary::QuantityId;

/// The end of a range that is bad.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum End {
    Low,
    High,
}

/// What is read of a cylinder, the figure that tells it (`None` where what is read tells itself), and which end is bad.
const READ: [(&str, Option<&str>, End); 2] =
    [("leakdown", Some("leakdown-lost"), End::High), ("compression", None, End::Low)];
/// An hour, s.
const HOUR: f64 = 3600.0;

/// A cylinder that comes to the end of what is usual.
#[derive(Debug, Clone)]
pub struct Ending {
    /// The car.
    pub car: CarId,
    /// What is read.
    pub quantity: QuantityId,
    /// The cylinder.
    pub place: Place,
    /// Whether what is told is a figure made of what was typed, in the figure's own unit.
    pub worked_out: bool,
    /// The readings, oldest first, SI, each with its line.
    pub readings: Vec<(EntryId, f64)>,
    /// The end it comes to, SI, and who says so.
    pub limit: (f64, Limits),
    /// Until it does, h of the engine: the earliest, the likely, the latest; from the last reading, less `since`. Under nought it may be
    /// there already.
    pub hours: [f64; 3],
    /// What the car ran since the last reading, h; `None` where nobody knows, and nothing is taken off.
    pub since: Option<f64>,
    /// What the car is expected to run until the event is over, h; `None` where nobody knows.
    pub ahead: Option<f64>,
    /// Parts that may be the engine, or of it, that were fitted or rebuilt since the first reading: of another engine it says nothing.
    pub renewed: Vec<PartId>,
}

/// The cylinders of the planned cars that may come to their end before the event is over; where nobody knows how much will be run, or was
/// since the last reading, all that have an end.
#[must_use]
pub fn ends(facts: Facts<'_>, plan: &Plan) -> Vec<Ending> {
    let mut list = Vec::new();
    for planned in &plan.cars {
        let count = facts.book.cars.get(planned.car).and_then(|car| car.cylinders).unwrap_or(0);
        let ahead = planned.expected(Clock::Time).map(|seconds| seconds / HOUR);
        for read in READ {
            for place in (1..=count).map(Place::cylinder) {
                let found = ending(facts, planned.car, plan.cut, read, place, ahead);
                let soon = |one: &Ending| ahead.zip(one.since).is_none_or(|(ahead, _)| one.hours[0] <= ahead);
                list.extend(found.filter(soon));
            }
        }
    }
    list
}

fn ending(
    facts: Facts<'_>,
    car: CarId,
    cut: Rank,
    (name, figure, bad): (&str, Option<&str>, End),
    place: Place,
    ahead: Option<f64>,
) -> Option<Ending> {
    let quantity = facts.book.vocabulary.find(name)?;
    let mut calc = Calc::new(facts, car, &Moment::of_rank(cut));
    let since = rebuilt(facts, car, cut, quantity);
    let mut points: Vec<(f64, f64)> = Vec::new();
    let mut readings = Vec::new();
    let mut ranks = Vec::new();
    let mut grain = 0.0_f64;
    for one in alike_over_hours(&mut calc, name, place).into_iter().filter(|one| one.rank >= since) {
        calc.rank = one.rank.next();
        let got = match figure {
            Some(figure) => calc.named(figure, place),
            None => calc.reading(name, place),
        };
        calc.rank = cut;
        let Ok(fig) = got else { continue };
        let hours = one.hours / HOUR;
        // A meter that stands lower is another meter.
        if points.last().is_some_and(|(before, _)| hours < *before) {
            points.clear();
            readings.clear();
            ranks.clear();
        }
        points.push((hours, fig.value));
        readings.push((one.entry, fig.value));
        ranks.push(one.rank);
        grain = grain.max(calc.u(&fig).unwrap_or(0.0));
    }
    let ((last, _), (first, newest)) = (points.last().copied()?, (*ranks.first()?, *ranks.last()?));
    let usual = facts.book.normal(Some(car), quantity, place).usual?;
    let limit = match bad {
        End::High => usual.high,
        End::Low => usual.low,
    };
    let Reach::Between { low, likely, high, slope } = reach(&points, limit, grain, 1.0 - LEVEL)? else {
        return None;
    };
    // One that gets better has no bad end.
    if (slope > 0.0) != (bad == End::High) {
        return None;
    }
    let run = facts.history.sessions.between(car, newest, cut);
    let run = usage::total(run.iter().map(|id| facts.history.sessions.get(*id)));
    let since = (!run.minutes_at_least).then_some(run.minutes / 60.0);
    let from_now = |at: f64| at - last - since.unwrap_or(0.0);
    Some(Ending {
        car,
        quantity,
        place,
        worked_out: figure.is_some(),
        readings,
        limit: (limit, usual),
        hours: [from_now(low), from_now(likely), from_now(high)],
        since,
        ahead,
        renewed: renewed(facts, car, [first, cut]),
    })
}

/// When a part whose kind carries what is read was last fitted, or rebuilt; the beginning where none does.
fn rebuilt(facts: Facts<'_>, car: CarId, cut: Rank, quantity: QuantityId) -> Rank {
    let parts = &facts.history.parts;
    let carries =
        |kind: KindId| facts.book.kinds.get(kind).is_some_and(|kind| kind.carries.contains(&quantity));
    let places = parts.places_of(car).iter().filter(|(kind, _)| carries(*kind));
    let stays = places.filter_map(|(kind, place)| parts.occupants.get(&(car, *kind, *place))).flatten();
    let ranks = stays.flat_map(|(from, until, part)| {
        let rebuilds = parts.get(*part).rebuilds.iter().map(|rebuild| rebuild.rank);
        std::iter::once(*from).chain(rebuilds.filter(|rank| rank >= from && rank < until))
    });
    ranks.filter(|rank| *rank < cut).max().unwrap_or(Rank::START)
}

/// The parts that may be the engine, or of it, that were fitted or rebuilt between two ranks: at a cylinder, or what is rebuilt or built of
/// others, where it is at no corner, axle or gear. (A shop calls the place of an engine what it likes.)
fn renewed(facts: Facts<'_>, car: CarId, [from, until]: [Rank; 2]) -> Vec<PartId> {
    let (book, parts) = (facts.book, &facts.history.parts);
    let inside = |rank: Rank| rank > from && rank < until;
    let of_car = |place: Place| {
        !(place == Place::ALL || place.is_corner() || place.is_axle() || place.gear_number().is_some())
    };
    let mut found: Vec<PartId> = Vec::new();
    for (kind, place) in parts.places_of(car).iter().filter(|(_, place)| of_car(*place)) {
        let whole = is_rebuilt(book, *kind) || book.kinds.iter().any(|other| other.inside.contains(kind));
        for (begun, ended, part) in parts.occupants.get(&(car, *kind, *place)).into_iter().flatten() {
            let rebuilds = &parts.get(*part).rebuilds;
            let may_be = whole || !rebuilds.is_empty() || place.cylinder_number().is_some();
            let mut while_on =
                rebuilds.iter().map(|one| one.rank).filter(|rank| rank >= begun && rank < ended);
            if may_be && (inside(*begun) || while_on.any(inside)) {
                found.push(*part);
            }
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// Whether parts of a kind are rebuilt after so much.
fn is_rebuilt(book: &Book, kind: KindId) -> bool {
    let every = book.kinds.get(kind).map(|kind| kind.every.as_slice()).unwrap_or_default();
    every.iter().any(|one| one.work == Work::Part(Verb::Rebuild))
}
