//! Mixture: air a fuel needs by its make-up, and a petrol and ethanol blend by its measured ethanol.
//!
//! What a pump calls E85 holds 51 to 83 % (ASTM D5798): ethanol is read, never taken from the label. Must not know injectors.

use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got};
use crate::figures::formula::Formula;
use crate::figures::code::Code;
use crate::figures::typed::all;
use crate::units::DimensionId;

/// The figures.
pub const FIGURES: &[Code] = &[
    ("stoichiometric-afr", stoichiometric),
    ("blend-afr", blend),
    ("blend-flow-factor", factor),
];

const HEYWOOD: &str = "Heywood, Internal Combustion Engine Fundamentals (1988), ch. 3, eq. 3.6";

const STOICHIOMETRIC: Formula = Formula {
    id: "stoichiometric-afr",
    name: "stoichiometric air to fuel",
    expression: "34.56 * (4 + hydrogen - 2 * oxygen) / (12.011 + 1.008 * hydrogen + 15.999 * oxygen)",
    source: HEYWOOD,
    convention: "by mass; hydrogen and oxygen atoms for each of carbon",
    dimension: DimensionId::RATIO,
    shown: "",
    show: [None, None],
};
const BLEND: Formula = Formula {
    id: "blend-afr",
    name: "stoichiometric air to fuel of the blend",
    expression: "((1 - ethanol) * petrol_density * petrol_afr + ethanol * ethanol_density * ethanol_afr) / ((1 - ethanol) * petrol_density + ethanol * ethanol_density)",
    source: HEYWOOD,
    convention: "by mass; ethanol by volume as measured; volumes held to add up",
    dimension: DimensionId::RATIO,
    shown: "",
    show: [None, None],
};
const FACTOR: Formula = Formula {
    id: "blend-flow-factor",
    name: "volume of blend for one of petrol",
    expression: "petrol_density * petrol_afr / ((1 - ethanol) * petrol_density * petrol_afr + ethanol * ethanol_density * ethanol_afr)",
    source: HEYWOOD,
    convention: "same air, same lambda; volumes held to add up",
    dimension: DimensionId::RATIO,
    shown: "",
    show: [None, None],
};

fn stoichiometric(calc: &mut Calc<'_>, _: Place) -> Got {
    let hydrogen = calc.value("fuel-hydrogen", Place::CAR);
    let oxygen = calc.value("fuel-oxygen", Place::CAR);
    let [hydrogen, oxygen] = all([hydrogen, oxygen])?;
    let inputs = [("hydrogen", &hydrogen), ("oxygen", &oxygen)];
    let ratio = calc.derive(&STOICHIOMETRIC, Place::CAR, &inputs, |x| {
        34.56 * (4.0 + &x[0] - 2.0 * &x[1]) / (12.011 + 1.008 * &x[0] + 15.999 * &x[1])
    })?;
    calc.positive(ratio)
}

/// Ethanol's share, densities and ratios of both.
fn blended(calc: &mut Calc<'_>) -> Got<[Fig; 5]> {
    let ethanol = calc.reading("ethanol", Place::CAR);
    let ethanol = ethanol.and_then(|fig| calc.within(fig, 0.0, 1.0, "from 0 to 100 %"));
    let petrol_density = calc.above_zero("petrol-density", Place::CAR);
    let petrol_afr = calc.above_zero("petrol-afr", Place::CAR);
    let ethanol_density = calc.above_zero("ethanol-density", Place::CAR);
    let ethanol_afr = calc.above_zero("ethanol-afr", Place::CAR);
    all([ethanol, petrol_density, petrol_afr, ethanol_density, ethanol_afr])
}

fn named(figs: &[Fig; 5]) -> [(&'static str, &Fig); 5] {
    let names = ["ethanol", "petrol_density", "petrol_afr", "ethanol_density", "ethanol_afr"];
    std::array::from_fn(|at| (names[at], &figs[at]))
}

fn blend(calc: &mut Calc<'_>, _: Place) -> Got {
    let figs = blended(calc)?;
    calc.derive(&BLEND, Place::CAR, &named(&figs), |x| {
        let (petrol, ethanol) = ((1.0 - &x[0]) * &x[1], &x[0] * &x[3]);
        (&petrol * &x[2] + &ethanol * &x[4]) / (&petrol + &ethanol)
    })
}

fn factor(calc: &mut Calc<'_>, _: Place) -> Got {
    let figs = blended(calc)?;
    calc.derive(&FACTOR, Place::CAR, &named(&figs), |x| {
        let petrol = &x[1] * &x[2];
        &petrol / ((1.0 - &x[0]) * &petrol + &x[0] * &x[3] * &x[4])
    })
}
