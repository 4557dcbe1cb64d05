//! Valve lash: what it changed by since it was last left, and that over the engine's hours.
//!
//! Must not know cams.

use super::drift::{self, Like};
use crate::book::entry::Verb;
use crate::book::place::Place;
use crate::figures::calc::{Calc, Got, Missing};
use crate::figures::formula::Formula;
use crate::figures::code::Code;
use crate::units::DimensionId;

/// The figures.
pub const FIGURES: &[Code] = &[
    ("lash-inlet-change", inlet_change),
    ("lash-exhaust-change", exhaust_change),
    ("lash-inlet-per-hour", inlet_per_hour),
    ("lash-exhaust-per-hour", exhaust_per_hour),
];

const INLET: Formula = Formula {
    id: "lash-inlet-change",
    name: "inlet lash found less left",
    expression: "found - left",
    source: "common practice",
    convention: "found less what was left before; hot with hot, cold with cold; negative: it closed up",
    dimension: DimensionId::LENGTH,
    shown: "",
    show: [None, None],
};
const EXHAUST: Formula = Formula {
    id: "lash-exhaust-change",
    name: "exhaust lash found less left",
    expression: "found - left",
    source: "common practice",
    convention: "found less what was left before; hot with hot, cold with cold; negative: it closed up",
    dimension: DimensionId::LENGTH,
    shown: "",
    show: [None, None],
};
const INLET_HOUR: Formula = Formula {
    id: "lash-inlet-per-hour",
    name: "inlet lash gained in an engine hour",
    expression: "3600 * slope(h, y)",
    source: "common practice",
    convention: "least squares since it was last left, over readings alike (hot or cold); negative: it closes up",
    dimension: DimensionId::LENGTH,
    shown: "",
    show: [None, None],
};
const EXHAUST_HOUR: Formula = Formula {
    id: "lash-exhaust-per-hour",
    name: "exhaust lash gained in an engine hour",
    expression: "3600 * slope(h, y)",
    source: "common practice",
    convention: "least squares since it was last left, over readings alike (hot or cold); negative: it closes up",
    dimension: DimensionId::LENGTH,
    shown: "",
    show: [None, None],
};

/// On a car in inches lash is spoken of in thousandths.
const INLET_THOU: Formula = Formula { shown: "thou", ..INLET };
const EXHAUST_THOU: Formula = Formula { shown: "thou", ..EXHAUST };
const INLET_HOUR_THOU: Formula = Formula { shown: "thou", ..INLET_HOUR };
const EXHAUST_HOUR_THOU: Formula = Formula { shown: "thou", ..EXHAUST_HOUR };

/// The last stretch without adjusting: from a `left` (or the first reading) to the last reading that is none.
fn stretch(calc: &mut Calc<'_>, name: &str, place: Place) -> Got<Vec<Like>> {
    let like = drift::like(calc, name, place)?;
    let end = like.iter().rposition(|one| one.verb != Verb::Left);
    let until = end.map_or(&[][..], |end| &like[..=end]);
    let from = until.iter().rposition(|one| one.verb == Verb::Left).unwrap_or(0);
    let stretch = until[from..].to_vec();
    if stretch.len() < 2 {
        let what = calc.slot_name(calc.quantity(name)?, place);
        return Err(Missing::one(format!("{what} left, then found again, both hot or both cold")));
    }
    Ok(stretch)
}

fn change(calc: &mut Calc<'_>, name: &str, place: Place, formulas: [&'static Formula; 2]) -> Got {
    let stretch = stretch(calc, name, place)?;
    let formula = formulas[usize::from(calc.imperial())];
    let now = calc.rank;
    let mut at = |one: Option<&Like>| {
        calc.rank = one.map_or(now, |one| one.rank + 1);
        let fig = calc.reading(name, place);
        calc.rank = now;
        fig
    };
    let (left, found) = (at(stretch.first())?, at(stretch.last())?);
    calc.derive(formula, place, &[("found", &found), ("left", &left)], |x| &x[0] - &x[1])
}

fn per_hour(calc: &mut Calc<'_>, name: &str, place: Place, formulas: [&'static Formula; 2]) -> Got {
    let stretch = stretch(calc, name, place)?;
    let formula = formulas[usize::from(calc.imperial())];
    drift::slope(calc, name, place, &stretch, formula, |calc| calc.reading(name, place))
}

fn inlet_change(calc: &mut Calc<'_>, place: Place) -> Got {
    change(calc, "lash-inlet", place, [&INLET, &INLET_THOU])
}

fn exhaust_change(calc: &mut Calc<'_>, place: Place) -> Got {
    change(calc, "lash-exhaust", place, [&EXHAUST, &EXHAUST_THOU])
}

fn inlet_per_hour(calc: &mut Calc<'_>, place: Place) -> Got {
    per_hour(calc, "lash-inlet", place, [&INLET_HOUR, &INLET_HOUR_THOU])
}

fn exhaust_per_hour(calc: &mut Calc<'_>, place: Place) -> Got {
    per_hour(calc, "lash-exhaust", place, [&EXHAUST_HOUR, &EXHAUST_HOUR_THOU])
}
