//! Moist air: vapour pressure, density, density altitude in its exact form and the weather service's.
//!
//! Station pressure, never reduced to sea level. Must not know engines.

use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing};
use crate::figures::dual::Dual;
use crate::figures::formula::Formula;
use crate::figures::code::Code;
use crate::figures::typed::all;
use crate::units::DimensionId;

/// The figures.
pub const FIGURES: &[Code] = &[
    ("vapour-pressure", vapour_of),
    ("air-density", density_of),
    ("density-altitude", altitude),
    ("density-altitude-nws", altitude_nws),
];

const ISA: &str = "US Standard Atmosphere 1976, geopotential height";
const NWS: &str = "US National Weather Service, El Paso, density altitude calculation";

const TETENS: Formula = Formula {
    id: "vapour-pressure",
    name: "vapour pressure",
    expression: "humidity * 610.78 * 10 ^ (7.5 * (air - 273.15) / (air - 273.15 + 237.3))",
    source: "Tetens 1930, after Murray, Journal of Applied Meteorology 6 (1967)",
    convention: "over water; relative humidity at the air's temperature",
    dimension: DimensionId::PRESSURE,
    shown: "hPa",
    show: [None, None],
};
const BY_DEW: Formula = Formula {
    id: "vapour-pressure",
    name: "vapour pressure by the dew point",
    expression: "611 * 10 ^ (7.5 * (dew - 273.15) / (dew - 273.15 + 237.7))",
    source: "US National Weather Service, El Paso, vapour pressure calculation",
    convention: "over water, at the dew point",
    dimension: DimensionId::PRESSURE,
    shown: "hPa",
    show: [None, None],
};
const DENSITY: Formula = Formula {
    id: "air-density",
    name: "density of the air",
    expression: "(pressure - vapour) / (287.05287 * air) + vapour / (461.495 * air)",
    source: "gas law for dry air and vapour; constants of US Standard Atmosphere 1976 and CIPM-2007",
    convention: "station pressure, not reduced to sea level",
    dimension: DimensionId::DENSITY,
    shown: "",
    show: [None, None],
};
const EXACT: Formula = Formula {
    id: "density-altitude",
    name: "density altitude",
    expression: "288.15 / 0.0065 * (1 - (density / 1.225) ^ (1 / 4.25588))",
    source: ISA,
    convention: "exact form; geopotential",
    dimension: DimensionId::LENGTH,
    shown: "m",
    show: [None, None],
};
const VIRTUAL: Formula = Formula {
    id: "virtual-temperature",
    name: "virtual temperature",
    expression: "air / (1 - vapour / pressure * (1 - 0.622))",
    source: NWS,
    convention: "temperature of dry air as dense as this",
    dimension: DimensionId::TEMPERATURE,
    shown: "",
    show: [None, None],
};
const ROUNDED: Formula = Formula {
    id: "density-altitude-nws",
    name: "density altitude by the weather service",
    expression: "0.3048 * 145366 * (1 - (17.326 * (pressure / 3386.389) / (9 / 5 * (virtual - 273.15) + 32 + 459.69)) ^ 0.235)",
    source: NWS,
    convention: "constants rounded: reads some 14 to 18 ft high; pressure in inches of mercury, temperature in degrees Rankine inside",
    dimension: DimensionId::LENGTH,
    shown: "ft",
    show: [None, None],
};

const EXACT_FT: Formula = Formula { shown: "ft", ..EXACT };

/// Temperature of the air: its quantity, else `with air ...` on the session.
pub(super) fn air_temp(calc: &mut Calc<'_>) -> Got {
    let fig = match calc.value("air-temp", Place::CAR) {
        Ok(fig) => fig,
        Err(mut missing) => {
            let session = calc.session_now().map(|session| session.entry);
            let found = session.and_then(|entry| calc.condition(entry, "air", DimensionId::TEMPERATURE));
            found.map_err(|_| {
                missing
                    .needs
                    .iter_mut()
                    .for_each(|need| need.push_str(" (or `with air ...` on the session)"));
                missing
            })?
        }
    };
    calc.positive(fig)
}

/// Station pressure.
pub(super) fn pressure(calc: &mut Calc<'_>) -> Got {
    calc.above_zero("air-pressure", Place::CAR)
}

fn ten_to(power: &Dual) -> Dual {
    (power * std::f64::consts::LN_10).exp()
}

/// By the dew point where it is read, else by the humidity.
pub(super) fn vapour(calc: &mut Calc<'_>) -> Got {
    if let Ok(dew) = calc.value("dew-point", Place::CAR) {
        return calc.derive(&BY_DEW, Place::CAR, &[("dew", &dew)], |x| {
            let celsius = &x[0] - 273.15;
            611.0 * ten_to(&(7.5 * &celsius / (&celsius + 237.7)))
        });
    }
    let humidity = calc
        .value("humidity", Place::CAR)
        .map_err(|_| Missing::one("a value of humidity (0 % for dry air) or dew-point"))
        .and_then(|fig| calc.within(fig, 0.0, 1.0, "from 0 to 100 %"));
    let [humidity, air] = all([humidity, air_temp(calc)])?;
    calc.derive(&TETENS, Place::CAR, &[("humidity", &humidity), ("air", &air)], |x| {
        let celsius = &x[1] - 273.15;
        &x[0] * 610.78 * ten_to(&(7.5 * &celsius / (&celsius + 237.3)))
    })
}

fn vapour_of(calc: &mut Calc<'_>, _: Place) -> Got {
    vapour(calc)
}

fn density(calc: &mut Calc<'_>) -> Got {
    let [pressure, vapour, air] = all([pressure(calc), vapour(calc), air_temp(calc)])?;
    let inputs = [("pressure", &pressure), ("vapour", &vapour), ("air", &air)];
    let density = calc.derive(&DENSITY, Place::CAR, &inputs, |x| {
        (&x[0] - &x[1]) / (287.05287 * &x[2]) + &x[1] / (461.495 * &x[2])
    })?;
    calc.positive(density)
}

fn density_of(calc: &mut Calc<'_>, _: Place) -> Got {
    density(calc)
}

fn altitude(calc: &mut Calc<'_>, _: Place) -> Got {
    let density = density(calc)?;
    let formula = if calc.imperial() { &EXACT_FT } else { &EXACT };
    calc.derive(formula, Place::CAR, &[("density", &density)], |x| {
        288.15 / 0.0065 * (1.0 - (&x[0] / 1.225).powf(1.0 / 4.25588))
    })
}

fn altitude_nws(calc: &mut Calc<'_>, _: Place) -> Got {
    let [pressure, vapour, air]: [Fig; 3] = all([pressure(calc), vapour(calc), air_temp(calc)])?;
    let inputs = [("air", &air), ("vapour", &vapour), ("pressure", &pressure)];
    let warm =
        calc.derive(&VIRTUAL, Place::CAR, &inputs, |x| &x[0] / (1.0 - &x[1] / &x[2] * (1.0 - 0.622)))?;
    let warm = calc.positive(warm)?;
    calc.derive(&ROUNDED, Place::CAR, &[("pressure", &pressure), ("virtual", &warm)], |x| {
        let rankine = 9.0 / 5.0 * (&x[1] - 273.15) + 32.0 + 459.69;
        0.3048 * 145_366.0 * (1.0 - (17.326 * (&x[0] / 3386.389) / rankine).powf(0.235))
    })
}
