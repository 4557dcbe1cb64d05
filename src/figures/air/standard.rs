//! The standard atmosphere at a height: temperature, pressure, density, up to 11 km.
//!
//! By geopotential height; tables by geometric height differ in the fourth figure. Must not know the day's air.

use crate::book::place::Place;
use crate::figures::calc::{Calc, Got};
use crate::figures::formula::Formula;
use crate::figures::code::Code;
use crate::figures::typed::all;
use crate::units::DimensionId;

/// The figures.
pub const FIGURES: &[Code] = &[
    ("standard-temperature", temperature),
    ("standard-pressure", pressure),
    ("standard-density", density),
];

const ISA: &str = "US Standard Atmosphere 1976; ICAO Doc 7488";

const TEMPERATURE: Formula = Formula {
    id: "standard-temperature",
    name: "standard temperature at this height",
    expression: "288.15 - 0.0065 * altitude",
    source: ISA,
    convention: "geopotential height, to 11 000 m",
    dimension: DimensionId::TEMPERATURE,
    shown: "",
    show: [None, None],
};
const PRESSURE: Formula = Formula {
    id: "standard-pressure",
    name: "standard pressure at this height",
    expression: "101325 * (temperature / 288.15) ^ 5.25588",
    source: ISA,
    convention: "geopotential height, to 11 000 m",
    dimension: DimensionId::PRESSURE,
    shown: "hPa",
    show: [None, None],
};
const DENSITY: Formula = Formula {
    id: "standard-density",
    name: "standard density at this height",
    expression: "pressure / (287.05287 * temperature)",
    source: ISA,
    convention: "geopotential height, to 11 000 m",
    dimension: DimensionId::DENSITY,
    shown: "",
    show: [None, None],
};

fn temperature(calc: &mut Calc<'_>, _: Place) -> Got {
    let altitude = calc.value("altitude", Place::CAR)?;
    let altitude = calc.within(altitude, -5000.0, 11_000.0 + 1e-6, "up to 11 000 m")?;
    calc.derive(&TEMPERATURE, Place::CAR, &[("altitude", &altitude)], |x| 288.15 - 0.0065 * &x[0])
}

fn pressure(calc: &mut Calc<'_>, place: Place) -> Got {
    let temperature = temperature(calc, place)?;
    calc.derive(&PRESSURE, place, &[("temperature", &temperature)], |x| {
        101_325.0 * (&x[0] / 288.15).powf(5.25588)
    })
}

fn density(calc: &mut Calc<'_>, place: Place) -> Got {
    let [pressure, temperature] = all([pressure(calc, place), temperature(calc, place)])?;
    let inputs = [("pressure", &pressure), ("temperature", &temperature)];
    calc.derive(&DENSITY, place, &inputs, |x| &x[0] / (287.05287 * &x[1]))
}
