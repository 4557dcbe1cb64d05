//! Fuel for a stint: fuel a lap from a session, laps of the stint, fuel to start with.
//!
//! Must not know the engine.

use crate::book::place::Place;
use crate::figures::calc::{Calc, Got};
use crate::figures::dual::Dual;
use crate::figures::formula::Formula;
use crate::figures::code::Code;
use crate::figures::typed::all;
use crate::units::DimensionId;

/// The figures.
pub const FIGURES: &[Code] = &[
    ("fuel-per-lap", per_lap),
    ("stint-laps", laps),
    ("stint-fuel", fuel),
];

const PER_LAP: Formula = Formula {
    id: "fuel-per-lap",
    name: "fuel for a lap",
    expression: "used / laps",
    source: "common practice",
    convention: "all the laps of the session, in and out laps too",
    dimension: DimensionId::VOLUME,
    shown: "",
    show: [None, None],
};
const LAPS: Formula = Formula {
    id: "stint-laps",
    name: "laps of the stint",
    expression: "ceil(time / lap - 0.000000001)",
    source: "common practice",
    convention: "a lap begun within the time is run to its end",
    dimension: DimensionId::LAPS,
    shown: "lap",
    show: [None, None],
};
const FUEL: Formula = Formula {
    id: "stint-fuel",
    name: "fuel to start the stint with",
    expression: "(laps + extra) * per_lap * (1 + reserve)",
    source: "common practice",
    convention: "extra laps for forming up or slowing down; reserve on the whole",
    dimension: DimensionId::VOLUME,
    shown: "",
    show: [None, None],
};

fn per_lap(calc: &mut Calc<'_>, _: Place) -> Got {
    let run = calc.session_now()?.entry;
    let used = calc.reading_during("fuel-used", Place::CAR, run).map(|(used, _)| used);
    let [used, laps] = all([used, calc.laps_of(run)])?;
    calc.derive(&PER_LAP, Place::CAR, &[("used", &used), ("laps", &laps)], |x| &x[0] / &x[1])
}

fn laps(calc: &mut Calc<'_>, _: Place) -> Got {
    let time = calc.above_zero("stint-time", Place::CAR);
    let lap = calc.above_zero("stint-lap", Place::CAR);
    let [time, lap] = all([time, lap])?;
    // Whole laps: between steps the count does not move with either time.
    calc.derive(&LAPS, Place::CAR, &[("time", &time), ("lap", &lap)], |x| {
        Dual::constant((x[0].value / x[1].value - 1e-9).ceil(), x.len())
    })
}

fn fuel(calc: &mut Calc<'_>, place: Place) -> Got {
    let extra = calc.value("stint-extra-laps", Place::CAR);
    let reserve = calc.value("fuel-reserve", Place::CAR);
    let [laps, extra, per_lap, reserve] = all([laps(calc, place), extra, per_lap(calc, place), reserve])?;
    let inputs = [("laps", &laps), ("extra", &extra), ("per_lap", &per_lap), ("reserve", &reserve)];
    calc.derive(&FUEL, Place::CAR, &inputs, |x| (&x[0] + &x[1]) * &x[2] * (1.0 + &x[3]))
}
