//! Power correction: the factor that takes power measured in this air to the reference air.
//!
//! For comparison between days only; beyond ±7 % the standards do not hold it comparable. Must not know dynamometers.

use super::moist::{air_temp, pressure, vapour};
use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got};
use crate::figures::formula::Formula;
use crate::figures::code::Code;
use crate::figures::typed::all;
use crate::units::DimensionId;

/// The figures.
pub const FIGURES: &[Code] = &[
    ("power-correction-sae", sae),
    ("power-correction-iso", iso),
];

const DRY: Formula = Formula {
    id: "dry-pressure",
    name: "pressure of the dry air",
    expression: "pressure - vapour",
    source: "closed form",
    convention: "station pressure less the vapour's",
    dimension: DimensionId::PRESSURE,
    shown: "hPa",
    show: [None, None],
};
const SAE: Formula = Formula {
    id: "power-correction-sae",
    name: "power correction by SAE J1349",
    expression: "1.180 * (99000 / dry) * ((air - 0.15) / 298) ^ 0.5 - 0.18",
    source: "SAE J1349, Jun 1990, as quoted publicly",
    convention: "reference 990 hPa dry, 25 °C; 85 % mechanical efficiency; not for an engine whose boost is held by its control",
    dimension: DimensionId::RATIO,
    shown: "",
    show: [None, None],
};
const ISO: Formula = Formula {
    id: "power-correction-iso",
    name: "power correction by ISO 1585",
    expression: "(99000 / dry) ^ 1.2 * ((air - 0.15) / 298) ^ 0.6",
    source: "ISO 1585; UN Regulation 85, spark ignition",
    convention: "reference 990 hPa dry, 25 °C taken as 298 K; not for an engine whose boost is held by its control",
    dimension: DimensionId::RATIO,
    shown: "",
    show: [None, None],
};

const OUTSIDE: &str = "outside ±7 %, not comparable";

/// Pressure of the dry air and its temperature.
fn dry(calc: &mut Calc<'_>) -> Got<[Fig; 2]> {
    let [pressure, vapour, air] = all([pressure(calc), vapour(calc), air_temp(calc)])?;
    let inputs = [("pressure", &pressure), ("vapour", &vapour)];
    let dry = calc.derive(&DRY, Place::CAR, &inputs, |x| &x[0] - &x[1])?;
    Ok([calc.positive(dry)?, air])
}

/// A factor beyond the limits stays, with the word that it compares with nothing.
fn limited(calc: &mut Calc<'_>, factor: Got) -> Got {
    let factor = factor?;
    if !(0.93..=1.07).contains(&factor.value) {
        calc.caution(&factor, OUTSIDE);
    }
    Ok(factor)
}

fn sae(calc: &mut Calc<'_>, _: Place) -> Got {
    let [dry, air] = dry(calc)?;
    let factor = calc.derive(&SAE, Place::CAR, &[("dry", &dry), ("air", &air)], |x| {
        1.180 * (99_000.0 / &x[0]) * ((&x[1] - 0.15) / 298.0).sqrt() - 0.18
    });
    limited(calc, factor)
}

fn iso(calc: &mut Calc<'_>, _: Place) -> Got {
    let [dry, air] = dry(calc)?;
    let factor = calc.derive(&ISO, Place::CAR, &[("dry", &dry), ("air", &air)], |x| {
        (99_000.0 / &x[0]).powf(1.2) * ((&x[1] - 0.15) / 298.0).powf(0.6)
    });
    limited(calc, factor)
}
