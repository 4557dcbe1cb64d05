//! Cylinders side by side, and the spread of their compressions by each of its usual definitions.
//!
//! Must not know leak-down.

use super::drift::{self, Like};
use crate::book::entry::Flags;
use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing};
use crate::figures::formula::Formula;
use crate::figures::code::Code;
use crate::units::DimensionId;

/// The figures.
pub const FIGURES: &[Code] = &[
    ("compression-spread", spread),
    ("compression-spread-mean", spread_mean),
    ("compression-lowest", lowest),
    ("compression-per-hour", per_hour),
];

const SPREAD: Formula = Formula {
    id: "compression-spread",
    name: "compression spread",
    expression: "(high - low) / high",
    source: "common practice",
    convention: "(highest - lowest) / highest",
    dimension: DimensionId::RATIO,
    shown: "%",
    show: [None, None],
};
const SPREAD_MEAN: Formula = Formula {
    id: "compression-spread-mean",
    name: "compression spread against the mean",
    expression: "(high - low) / mean(p)",
    source: "common practice",
    convention: "(highest - lowest) / mean of the cylinders",
    dimension: DimensionId::RATIO,
    shown: "%",
    show: [None, None],
};
const LOWEST: Formula = Formula {
    id: "compression-lowest",
    name: "lowest compression of the highest",
    expression: "low / high",
    source: "common practice",
    convention: "lowest / highest",
    dimension: DimensionId::RATIO,
    shown: "%",
    show: [None, None],
};
const PER_HOUR: Formula = Formula {
    id: "compression-per-hour",
    name: "compression gained in an engine hour",
    expression: "3600 * slope(h, y)",
    source: "common practice",
    convention: "least squares over the readings like the last one (hot or cold the same); negative: it falls",
    dimension: DimensionId::PRESSURE,
    shown: "",
    show: [None, None],
};

/// The cylinders of the newest line that read the quantity: one day's state, never a mixture of days.
pub(super) fn of_one_line(calc: &mut Calc<'_>, name: &str) -> Got<Vec<Place>> {
    let id = calc.quantity(name)?;
    let count = calc.book.cars.get(calc.car.0 as usize).and_then(|car| car.cylinders);
    let newest = (1..=count.unwrap_or(40))
        .filter_map(|n| calc.state(id, Place::cylinder(n))?.held.read)
        .filter_map(|event| Some((*calc.history.order.rank.get(event.entry as usize)?, event.entry)))
        .max();
    let Some((_, entry)) = newest else {
        return Err(Missing::one(format!("a reading of {name} of each cylinder")));
    };
    let items = calc.book.items_of(&calc.book.entries[entry as usize]);
    let read: Vec<Place> = (1..=count.unwrap_or(40))
        .map(Place::cylinder)
        .filter(|place| {
            items.iter().any(|item| item.place == *place && item.has_value() && !item.is(Flags::OLD))
        })
        .collect();
    let absent = (1..=count.unwrap_or(0)).map(Place::cylinder).filter(|place| !read.contains(place));
    let needs: Vec<String> =
        absent.map(|place| format!("{} on the same line as the others", calc.slot_name(id, place))).collect();
    if !needs.is_empty() {
        return Err(Missing { needs });
    }
    if read.len() < 2 {
        return Err(Missing::one(format!("{name} of another cylinder on the same line")));
    }
    Ok(read)
}

/// All compressions in order, and which is the highest and the lowest.
fn pressures(calc: &mut Calc<'_>) -> Got<(Vec<Fig>, usize, usize)> {
    let mut figs = Vec::new();
    for place in of_one_line(calc, "compression")? {
        let fig = calc.reading("compression", place)?;
        figs.push(calc.positive(fig)?);
    }
    let by_value = |a: &usize, b: &usize| figs[*a].value.total_cmp(&figs[*b].value);
    let (high, low) = ((0..figs.len()).max_by(by_value), (0..figs.len()).min_by(by_value));
    let (Some(high), Some(low)) = (high, low) else { return Err(Missing::one("a reading of compression")) };
    Ok((figs, high, low))
}

fn spread(calc: &mut Calc<'_>, _: Place) -> Got {
    let (figs, high, low) = pressures(calc)?;
    let inputs = [("high", &figs[high]), ("low", &figs[low])];
    calc.derive(&SPREAD, Place::CAR, &inputs, |x| (&x[0] - &x[1]) / &x[0])
}

fn spread_mean(calc: &mut Calc<'_>, _: Place) -> Got {
    let (figs, high, low) = pressures(calc)?;
    let names: Vec<String> = (1..=figs.len()).map(|n| format!("p{n}")).collect();
    let mut inputs: Vec<(&str, &Fig)> = vec![("high", &figs[high]), ("low", &figs[low])];
    inputs.extend(names.iter().map(String::as_str).zip(&figs));
    let count = figs.len() as f64;
    calc.derive(&SPREAD_MEAN, Place::CAR, &inputs, |x| {
        let sum = x[3..].iter().fold(x[2].clone(), |sum, one| sum + one);
        (&x[0] - &x[1]) / (sum / count)
    })
}

fn lowest(calc: &mut Calc<'_>, _: Place) -> Got {
    let (figs, high, low) = pressures(calc)?;
    calc.derive(&LOWEST, Place::CAR, &[("high", &figs[high]), ("low", &figs[low])], |x| &x[1] / &x[0])
}

fn per_hour(calc: &mut Calc<'_>, place: Place) -> Got {
    let like: Vec<Like> = drift::like(calc, "compression", place)?;
    drift::slope(calc, "compression", place, &like, &PER_HOUR, |calc| calc.reading("compression", place))
}
