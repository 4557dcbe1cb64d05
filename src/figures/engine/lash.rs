//! Valve lash: the last stretch without adjusting, its ends, and its drift over the engine's hours.
//!
//! Must not know cams.

use super::drift::{self, Like};
use crate::book::entry::Verb;
use crate::book::place::Place;
use crate::figures::calc::{Calc, Got, Missing};
use crate::figures::code::Code;
use crate::figures::formula::Formula;
use crate::units::DimensionId;

/// What the program works out.
pub const FIGURES: &[Code] = &[
    ("lash-inlet-left", |calc, place| end(calc, "lash-inlet", place, false)),
    ("lash-inlet-found", |calc, place| end(calc, "lash-inlet", place, true)),
    ("lash-exhaust-left", |calc, place| end(calc, "lash-exhaust", place, false)),
    ("lash-exhaust-found", |calc, place| end(calc, "lash-exhaust", place, true)),
    ("lash-inlet-per-hour", |calc, place| {
        per_hour(calc, "lash-inlet", place, [&INLET_HOUR, &INLET_HOUR_THOU])
    }),
    ("lash-exhaust-per-hour", |calc, place| {
        per_hour(calc, "lash-exhaust", place, [&EXHAUST_HOUR, &EXHAUST_HOUR_THOU])
    }),
];

const INLET_HOUR: Formula = Formula {
    id: "lash-inlet-per-hour",
    name: "inlet lash gained in an engine hour",
    expression: "slope(h, y)",
    source: "common practice",
    convention: "least squares since it was last left, over readings alike (hot or cold); negative: it closes up",
    dimension: DimensionId::LENGTH_PER_TIME,
    shown: "mm/h",
    show: [None, None],
};
const EXHAUST_HOUR: Formula = Formula {
    id: "lash-exhaust-per-hour",
    name: "exhaust lash gained in an engine hour",
    expression: "slope(h, y)",
    source: "common practice",
    convention: "least squares since it was last left, over readings alike (hot or cold); negative: it closes up",
    dimension: DimensionId::LENGTH_PER_TIME,
    shown: "mm/h",
    show: [None, None],
};

/// On a car in inches lash is spoken of in thousandths.
const INLET_HOUR_THOU: Formula = Formula { shown: "thou/h", ..INLET_HOUR };
const EXHAUST_HOUR_THOU: Formula = Formula { shown: "thou/h", ..EXHAUST_HOUR };

/// The last stretch without adjusting: from a `left` (or the first reading) to the last reading that is none.
fn stretch(calc: &mut Calc<'_>, name: &str, place: Place) -> Got<Vec<Like>> {
    let like = drift::like(calc, name, place)?;
    let end = like.iter().rposition(|one| one.verb != Verb::Left);
    let until = end.and_then(|end| like.get(..=end)).unwrap_or_default();
    let from = until.iter().rposition(|one| one.verb == Verb::Left).unwrap_or(0);
    let stretch = until.split_at(from).1.to_vec();
    if stretch.len() < 2 {
        let what = calc.slot_name(calc.quantity(name)?, place);
        return Err(Missing::one(format!("{what} left, then found again, both hot or both cold")));
    }
    Ok(stretch)
}

/// The reading that begins the stretch, or the one that ends it.
fn end(calc: &mut Calc<'_>, name: &str, place: Place, last: bool) -> Got {
    let stretch = stretch(calc, name, place)?;
    let now = calc.rank;
    let one = if last { stretch.last() } else { stretch.first() };
    calc.rank = one.map_or(now, |one| one.rank.next());
    let fig = calc.reading(name, place);
    calc.rank = now;
    fig
}

fn per_hour(calc: &mut Calc<'_>, name: &str, place: Place, [metric, thou]: [&'static Formula; 2]) -> Got {
    let stretch = stretch(calc, name, place)?;
    let formula = if calc.imperial() { thou } else { metric };
    drift::slope(calc, name, place, &stretch, formula, |calc| calc.reading(name, place))
}
