//! The cylinders of one line side by side: the highest compression, the lowest, their mean.
//!
//! Must not know leak-down.

use super::drift::{self, Like};
use crate::book::entry::Flags;
use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing};
use crate::figures::code::Code;
use crate::figures::dual::sum;
use crate::figures::formula::Formula;
use crate::units::DimensionId;

/// What the program works out.
pub const FIGURES: &[Code] = &[
    ("compression-highest", |calc, _| pressures(calc).map(|(_, high, _)| high)),
    ("compression-least", |calc, _| pressures(calc).map(|(_, _, low)| low)),
    ("compression-mean", mean),
    ("compression-per-hour", per_hour),
];

const MEAN: Formula = Formula {
    id: "compression-mean",
    name: "mean compression",
    expression: "mean(p)",
    source: "common practice",
    convention: "of the cylinders on one line",
    dimension: DimensionId::PRESSURE,
    shown: "",
    show: [None, None],
};
const PER_HOUR: Formula = Formula {
    id: "compression-per-hour",
    name: "compression gained in an engine hour",
    expression: "slope(h, y)",
    source: "common practice",
    convention: "least squares over the readings like the last one (hot or cold the same); negative: it falls",
    dimension: DimensionId::PRESSURE_PER_TIME,
    shown: "",
    show: [None, None],
};

/// The cylinders of the newest line that read the quantity: one day's state, never a mixture of days.
pub(super) fn of_one_line(calc: &mut Calc<'_>, name: &str) -> Got<Vec<Place>> {
    let id = calc.quantity(name)?;
    let count = calc.declared().and_then(|car| car.cylinders);
    let newest = (1..=count.unwrap_or(40))
        .filter_map(|n| calc.state(id, Place::cylinder(n))?.held.read)
        .filter_map(|event| Some((event.rank(&calc.history.order)?, event.entry?)))
        .max();
    let Some((_, entry)) = newest else {
        return Err(Missing::one(format!("a reading of {name} of each cylinder")));
    };
    let items = calc.book.items_of(&calc.book.entries[entry]);
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

/// All compressions in order, the highest and the lowest.
fn pressures(calc: &mut Calc<'_>) -> Got<(Vec<Fig>, Fig, Fig)> {
    let mut figs = Vec::new();
    for place in of_one_line(calc, "compression")? {
        let fig = calc.reading("compression", place)?;
        figs.push(calc.positive(fig)?);
    }
    let by_value = |a: &&Fig, b: &&Fig| a.value.total_cmp(&b.value);
    let (high, low) = (figs.iter().max_by(by_value).cloned(), figs.iter().min_by(by_value).cloned());
    let (Some(high), Some(low)) = (high, low) else { return Err(Missing::one("a reading of compression")) };
    Ok((figs, high, low))
}

fn mean(calc: &mut Calc<'_>, _: Place) -> Got {
    let (figs, ..) = pressures(calc)?;
    let names: Vec<String> = (1..=figs.len()).map(|n| format!("p{n}")).collect();
    let inputs: Vec<(&str, &Fig)> = names.iter().map(String::as_str).zip(&figs).collect();
    let count = figs.len() as f64;
    calc.derive(&MEAN, Place::CAR, &inputs, |x| sum(x) / count)
}

fn per_hour(calc: &mut Calc<'_>, place: Place) -> Got {
    let like: Vec<Like> = drift::like(calc, "compression", place)?;
    drift::slope(calc, "compression", place, &like, &PER_HOUR, |calc| calc.reading("compression", place))
}
