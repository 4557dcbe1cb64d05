//! Temperatures across the tread: inner less outer, and the mean of the three.
//!
//! Must not know pressures.

use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing};
use crate::figures::formula::Formula;
use crate::figures::code::Code;
use crate::units::DimensionId;

/// The figures.
pub const FIGURES: &[Code] = &[
    ("tread-inner-less-outer", lean),
    ("tread-middle-less-edges", crown),
    ("tread-mean", mean),
];

const LEAN: Formula = Formula {
    id: "tread-inner-less-outer",
    name: "inner less outer tread temperature",
    expression: "inner - outer",
    source: "common practice",
    convention: "positive: the inner edge is hotter",
    dimension: DimensionId::TEMPERATURE_DIFFERENCE,
    shown: "",
    show: [None, None],
};
const CROWN: Formula = Formula {
    id: "tread-middle-less-edges",
    name: "middle less edges of the tread",
    expression: "middle - (outer + inner) / 2",
    source: "common practice",
    convention: "positive: the middle is hotter, as with too much pressure",
    dimension: DimensionId::TEMPERATURE_DIFFERENCE,
    shown: "",
    show: [None, None],
};
const MEAN: Formula = Formula {
    id: "tread-mean",
    name: "mean tread temperature",
    expression: "(outer + middle + inner) / 3",
    source: "common practice",
    convention: "of outer, middle and inner, equal shares",
    dimension: DimensionId::TEMPERATURE,
    shown: "",
    show: [None, None],
};

/// Outer, middle and inner of the last reading.
fn three(calc: &mut Calc<'_>, place: Place) -> Got<[Fig; 3]> {
    let typed = calc.typed("tyre-temp", place)?;
    let parts = calc.parts_of(&typed, "tyre-temp");
    let (Some(entry), [middle, inner]) = (typed.entry, parts.as_slice()) else {
        return Err(Missing::one(format!("a reading of {} as outer/middle/inner", typed.name)));
    };
    let kind = DimensionId::TEMPERATURE;
    Ok([
        calc.item(format!("outer {}", typed.name), entry, &typed.item, kind),
        calc.item(format!("middle {}", typed.name), entry, middle, kind),
        calc.item(format!("inner {}", typed.name), entry, inner, kind),
    ])
}

fn lean(calc: &mut Calc<'_>, place: Place) -> Got {
    let [outer, _, inner] = three(calc, place)?;
    calc.derive(&LEAN, place, &[("inner", &inner), ("outer", &outer)], |x| &x[0] - &x[1])
}

fn crown(calc: &mut Calc<'_>, place: Place) -> Got {
    let [outer, middle, inner] = three(calc, place)?;
    let inputs = [("middle", &middle), ("outer", &outer), ("inner", &inner)];
    calc.derive(&CROWN, place, &inputs, |x| &x[0] - (&x[1] + &x[2]) / 2.0)
}

fn mean(calc: &mut Calc<'_>, place: Place) -> Got {
    let [outer, middle, inner] = three(calc, place)?;
    let inputs = [("outer", &outer), ("middle", &middle), ("inner", &inner)];
    calc.derive(&MEAN, place, &inputs, |x| (&x[0] + &x[1] + &x[2]) / 3.0)
}
