//! What scrutineers weigh: the car after a session with the fuel that is left, and power for each bit of mass.
//!
//! Must not know any rule.

use super::calc::{Calc, Fig, Got, Missing};
use super::formula::Formula;
use super::code::Code;
use super::typed::all;
use super::weights::{density, fuel_on_the_pads, line_of_pads, total};
use crate::book::entry::Verb;
use crate::book::place::Place;
use crate::units::DimensionId;

/// The field's figures.
pub const FIGURES: &[Code] = &[
    ("fuel-burnt", burnt),
    ("weight-after-session", after),
    ("power-to-weight", power),
];

const BURNT: Formula = Formula {
    id: "fuel-burnt",
    name: "fuel burnt in the session",
    expression: "rate * time",
    source: "common practice",
    convention: "the car's fuel-rate by the running minutes of the session of the moment, or the last before it",
    dimension: DimensionId::VOLUME,
    shown: "",
    show: [None, None],
};
const READ: Formula = Formula {
    id: "fuel-burnt-read",
    name: "fuel burnt in the session",
    expression: "used",
    source: "common practice",
    convention: "as read in that session",
    dimension: DimensionId::VOLUME,
    shown: "",
    show: [None, None],
};
const AFTER: Formula = Formula {
    id: "weight-after-session",
    name: "weight after the session",
    expression: "total - 9.80665 * density * (then - (start - burnt))",
    source: "common practice",
    convention: "fuel on the pads' line less the fuel left, at standard gravity; all else as weighed",
    dimension: DimensionId::WEIGHT,
    shown: "",
    show: [None, None],
};
const DRY: Formula = Formula {
    id: "weight-run-dry",
    name: "weight after the session",
    expression: "total - 9.80665 * density * then",
    source: "common practice",
    convention: "the session burns all the fuel there is; at standard gravity, all else as weighed",
    dimension: DimensionId::WEIGHT,
    shown: "",
    show: [None, None],
};
const AS_READ: Formula = Formula {
    id: "weight-read-after",
    name: "weight after the session",
    expression: "total",
    source: "common practice",
    convention: "weighed after a session, with the fuel that was left",
    dimension: DimensionId::WEIGHT,
    shown: "",
    show: [None, None],
};
const POWER: Formula = Formula {
    id: "power-to-weight",
    name: "power to weight",
    expression: "power / (total / 9.80665)",
    source: "common practice",
    convention: "driver and fuel as on the pads' line; power at the crank or the wheels as it is typed",
    dimension: DimensionId::SPECIFIC_POWER,
    shown: "",
    show: [None, None],
};

fn burnt(calc: &mut Calc<'_>, _: Place) -> Got {
    let run = calc.session_now()?.entry;
    if let Ok((used, _)) = calc.reading_during("fuel-used", Place::CAR, run) {
        return calc.derive(&READ, Place::CAR, &[("used", &used)], |x| x[0].clone());
    }
    let rate = calc.above_zero("fuel-rate", Place::CAR);
    let [rate, time] = all([rate, calc.running_of(run)])?;
    calc.derive(&BURNT, Place::CAR, &[("rate", &rate), ("time", &time)], |x| &x[0] * &x[1])
}

fn after(calc: &mut Calc<'_>, place: Place) -> Got {
    let total = total(calc, place)?;
    let entry = line_of_pads(calc)?;
    let line = calc.book.entries[entry as usize];
    let above = calc.book.entries.get(line.parent as usize);
    let came_in = above.is_some_and(|above| above.verb == Verb::Run)
        || calc.book.extra(&line).is_some_and(|extra| extra.after.is_some());
    if came_in {
        return calc.derive(&AS_READ, Place::CAR, &[("total", &total)], |x| x[0].clone());
    }
    let then = fuel_on_the_pads(calc, entry)?;
    let burnt = burnt(calc, place)?;
    let density = density(calc)?;
    let start = at_the_start(calc, entry)?.unwrap_or_else(|| then.clone());
    if burnt.value >= start.value {
        let inputs = [("total", &total), ("density", &density), ("then", &then)];
        let dry = calc.derive(&DRY, Place::CAR, &inputs, |x| &x[0] - 9.80665 * &x[1] * &x[2])?;
        calc.caution(&dry, "burns all the fuel there is by this rate");
        return Ok(dry);
    }
    let inputs =
        [("total", &total), ("density", &density), ("then", &then), ("start", &start), ("burnt", &burnt)];
    calc.derive(&AFTER, Place::CAR, &inputs, |x| &x[0] - 9.80665 * &x[1] * (&x[2] - (&x[3] - &x[4])))
}

/// The fuel filled after the car was weighed and before the session, if the book says it.
fn at_the_start(calc: &mut Calc<'_>, pads: u32) -> Got<Option<Fig>> {
    let id = calc.quantity("fuel")?;
    let run = calc.session_now()?.rank;
    let now = calc.rank;
    calc.rank = run;
    let weighed = calc.history.order.rank.get(pads as usize).copied().unwrap_or(u32::MAX);
    let filled =
        calc.state(id, Place::CAR).and_then(|slot| slot.held.is(calc.history)).is_some_and(|event| {
            calc.history.order.rank.get(event.entry as usize).is_some_and(|rank| *rank > weighed)
        });
    let got = if filled { calc.value("fuel", Place::CAR).map(Some) } else { Ok(None) };
    calc.rank = now;
    got
}

fn power(calc: &mut Calc<'_>, place: Place) -> Got {
    let power = calc.above_zero("peak-power", Place::CAR);
    let [power, total] = all([power, total(calc, place)])?;
    if total.value <= 0.0 {
        return Err(Missing::one("a weight above zero"));
    }
    calc.derive(&POWER, Place::CAR, &[("power", &power), ("total", &total)], |x| &x[0] / (&x[1] / 9.80665))
}
