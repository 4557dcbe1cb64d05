//! What an engine's readings lead to: at what hours a line through those taken alike reaches the end of what is usual on the car.
//!
//! Must not know words.

use super::plan::Plan;
use crate::book::entry::EntryId;
use crate::book::model::{CarId, Clock, KindId};
use crate::book::place::Place;
use crate::book::range::Limits;
use crate::figures::{Calc, alike_over_hours};
use crate::history::order::Rank;
use crate::history::{Facts, Moment, grain};
use crate::statistics::reach::{Reach, reach};
use crate::trials::effect::LEVEL;
use crate::vocabulary::QuantityId;

/// What is read of a cylinder, and the figure that tells it; `None` where what is read tells itself.
const READ: [(&str, Option<&str>); 2] = [("leakdown", Some("leakdown-lost")), ("compression", None)];
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
    /// The readings, oldest first, SI, each with its line.
    pub readings: Vec<(EntryId, f64)>,
    /// The end it comes to, SI, and who says so.
    pub limit: (f64, Limits),
    /// From the last reading until it does, h of the engine: the earliest, the likely, the latest. Under nought it may be there already.
    pub hours: [f64; 3],
    /// What the car is expected to run until the event is over, h; `None` where nobody knows.
    pub ahead: Option<f64>,
}

/// The cylinders of the planned cars that may come to their end before the event is over; where nobody knows how much will be run, all that
/// have an end.
#[must_use]
pub fn ends(facts: Facts<'_>, plan: &Plan) -> Vec<Ending> {
    let mut list = Vec::new();
    for planned in &plan.cars {
        let count = facts.book.cars.get(planned.car).and_then(|car| car.cylinders).unwrap_or(0);
        let ahead = planned.expected(Clock::Time).map(|seconds| seconds / HOUR);
        for (name, figure) in READ {
            for place in (1..=count).map(Place::cylinder) {
                let found = ending(facts, planned.car, plan.cut, (name, figure), place, ahead);
                list.extend(found.filter(|one| ahead.is_none_or(|ahead| one.hours[0] <= ahead)));
            }
        }
    }
    list
}

fn ending(
    facts: Facts<'_>,
    car: CarId,
    cut: Rank,
    (name, figure): (&str, Option<&str>),
    place: Place,
    ahead: Option<f64>,
) -> Option<Ending> {
    let quantity = facts.book.vocabulary.find(name)?;
    let mut calc = Calc::new(facts, car, &Moment::of_rank(cut));
    let since = renewed(facts, car, cut);
    let mut points = Vec::new();
    let mut readings = Vec::new();
    let mut least = 0.0_f64;
    for one in alike_over_hours(&mut calc, name, place).into_iter().filter(|one| one.rank >= since) {
        calc.rank = one.rank.next();
        let got = match figure {
            Some(figure) => calc.named(figure, place),
            None => calc.reading(name, place),
        };
        calc.rank = cut;
        let Ok(value) = got.map(|fig| fig.value) else { continue };
        points.push((one.hours / HOUR, value));
        readings.push((one.entry, value));
        least = least.max(closest(facts, one.entry, place));
    }
    let (last, _) = points.last().copied()?;
    let (first, now) = (points.first()?.1, points.last()?.1);
    let usual = facts.book.normal(Some(car), quantity, place).usual?;
    let limit = if now >= first { usual.high } else { usual.low };
    match reach(&points, limit, least, 1.0 - LEVEL)? {
        Reach::Between { low, likely, high } if likely > last => Some(Ending {
            car,
            quantity,
            place,
            readings,
            limit: (limit, usual),
            hours: [low - last, likely - last, high - last],
            ahead,
        }),
        Reach::Between { .. } | Reach::NoEnd => None,
    }
}

/// When the engine was last fitted or rebuilt: a part of a kind that is called an engine. What was read before is of another.
fn renewed(facts: Facts<'_>, car: CarId, cut: Rank) -> Rank {
    let parts = &facts.history.parts;
    let kind_is = |kind: &KindId| {
        facts.book.kinds.get(*kind).is_some_and(|kind| kind.named.typed.to_lowercase().contains("engine"))
    };
    let places = parts.places_of(car).iter().filter(|(kind, _)| kind_is(kind));
    let stays = places.filter_map(|(kind, place)| parts.occupants.get(&(car, *kind, *place))).flatten();
    let ranks = stays.flat_map(|(from, until, part)| {
        let rebuilt = parts.get(*part).rebuilds.iter().map(|rebuild| rebuild.rank);
        std::iter::once(*from).chain(rebuilt.filter(|rank| rank >= from && rank < until))
    });
    ranks.filter(|rank| *rank < cut).max().unwrap_or(Rank::START)
}

/// What one reading can be told to, as a standard uncertainty, SI.
fn closest(facts: Facts<'_>, line: EntryId, place: Place) -> f64 {
    let Some(entry) = facts.book.entries.get(line) else { return 0.0 };
    let item = facts.book.items_of(entry).iter().find(|item| item.place == place);
    item.map_or(0.0, |item| grain::half(facts.book, facts.files, entry, item) / 3.0_f64.sqrt())
}
