//! Injectors and pump: duty, flow at another pressure, the size needed, what the pump must give.
//!
//! Four-stroke, one shot a cycle. Must not know mixtures.

use crate::book::place::Place;
use crate::figures::calc::{Calc, Got, Missing};
use crate::figures::formula::Formula;
use crate::figures::code::Code;
use crate::figures::typed::all;
use crate::units::DimensionId;

/// The figures.
pub const FIGURES: &[Code] = &[
    ("injector-window", window),
    ("injector-duty", duty),
    ("injector-flow-here", flow),
    ("injector-size", size),
    ("injector-size-volume", size_volume),
    ("pound-hour-volume", pound_hour),
    ("pump-pressure", pump_pressure),
    ("pump-flow", pump_flow),
];

const WINDOW: Formula = Formula {
    id: "injector-window",
    name: "time of one cycle",
    expression: "12.566370614359172 / speed",
    source: "closed form",
    convention: "four-stroke: two turns a cycle",
    dimension: DimensionId::TIME,
    shown: "ms",
    show: [None, None],
};
const DUTY: Formula = Formula {
    id: "injector-duty",
    name: "injector duty",
    expression: "pulse * speed / 12.566370614359172",
    source: "closed form",
    convention: "four-stroke, one shot a cycle; the whole pulse, dead time in it",
    dimension: DimensionId::RATIO,
    shown: "%",
    show: [None, None],
};
const FLOW: Formula = Formula {
    id: "injector-flow-here",
    name: "injector flow at the pressure set",
    expression: "flow * (pressure / tested) ^ 0.5",
    source: "Bernoulli's orifice law",
    convention: "both pressures across the injector: rail over manifold",
    dimension: DimensionId::VOLUME_FLOW,
    shown: "cc/min",
    show: [None, None],
};
const SIZE: Formula = Formula {
    id: "injector-size",
    name: "injector flow needed by mass",
    expression: "power * consumption / (injectors * limit)",
    source: "common practice",
    convention: "at peak power; fuel by brake specific consumption",
    dimension: DimensionId::MASS_FLOW,
    shown: "",
    show: [None, None],
};
const VOLUME: Formula = Formula {
    id: "injector-size-volume",
    name: "injector flow needed by volume",
    expression: "mass / density",
    source: "closed form",
    convention: "at the fuel's own density",
    dimension: DimensionId::VOLUME_FLOW,
    shown: "cc/min",
    show: [None, None],
};
const POUND: Formula = Formula {
    id: "pound-hour-volume",
    name: "volume flow of one pound an hour",
    expression: "0.45359237 / 3600 / density",
    source: "closed form",
    convention: "at the fuel's own density: the trade's 10.5 cc/min holds for 0.72 kg/L",
    dimension: DimensionId::VOLUME_FLOW,
    shown: "cc/min",
    show: [None, None],
};
const PUMP_PRESSURE: Formula = Formula {
    id: "pump-pressure",
    name: "pressure the pump must hold",
    expression: "rail + boost",
    source: "common practice",
    convention: "gauge; the rail stands its pressure over the manifold's",
    dimension: DimensionId::PRESSURE,
    shown: "",
    show: [None, None],
};
const PUMP_FLOW: Formula = Formula {
    id: "pump-flow",
    name: "flow the pump must give",
    expression: "power * consumption / density * (1 + margin)",
    source: "common practice",
    convention: "at peak power and at the pump-pressure, over the margin",
    dimension: DimensionId::VOLUME_FLOW,
    shown: "L/h",
    show: [None, None],
};

const SHUT_NEVER: &str = "100 % or more: the injectors cannot close";

/// Radians of one cycle.
const CYCLE: f64 = 2.0 * std::f64::consts::TAU;

fn window(calc: &mut Calc<'_>, _: Place) -> Got {
    let speed = calc.above_zero("engine-speed", Place::CAR)?;
    calc.derive(&WINDOW, Place::CAR, &[("speed", &speed)], |x| CYCLE / &x[0])
}

fn duty(calc: &mut Calc<'_>, _: Place) -> Got {
    let speed = calc.above_zero("engine-speed", Place::CAR);
    let pulse = calc.value("injector-pulse", Place::CAR);
    let [pulse, speed] = all([pulse, speed])?;
    let duty =
        calc.derive(&DUTY, Place::CAR, &[("pulse", &pulse), ("speed", &speed)], |x| &x[0] * &x[1] / CYCLE)?;
    if duty.value >= 1.0 {
        calc.caution(&duty, SHUT_NEVER);
    }
    Ok(duty)
}

/// The flow read on the bench, at the pressure on its line, taken to the fuel pressure set.
fn flow(calc: &mut Calc<'_>, place: Place) -> Got {
    let flow = calc.reading("injector-flow", place);
    let pressure = calc.above_zero("fuel-pressure", Place::CAR);
    let [flow, pressure] = all([flow, pressure])?;
    let typed = calc.typed("injector-flow", place)?;
    let at =
        typed.entry.and_then(|entry| Some((entry, calc.book.extra(&calc.book.entries[entry as usize])?.at?)));
    let Some((entry, item)) = at else {
        return Err(Missing::one(format!(
            "the pressure it was tested at, `at 3.0 bar`, on the line of {}",
            typed.name
        )));
    };
    let tested = calc.item(format!("test pressure of {}", typed.name), entry, &item, DimensionId::PRESSURE);
    let tested = calc.positive(tested)?;
    let inputs = [("flow", &flow), ("pressure", &pressure), ("tested", &tested)];
    calc.derive(&FLOW, place, &inputs, |x| &x[0] * (&x[1] / &x[2]).sqrt())
}

fn size(calc: &mut Calc<'_>, _: Place) -> Got {
    let power = calc.above_zero("peak-power", Place::CAR);
    let consumption = calc.above_zero("specific-consumption", Place::CAR);
    let injectors = calc.above_zero("injectors", Place::CAR);
    let limit = calc.above_zero("duty-limit", Place::CAR);
    let [power, consumption, injectors, limit] = all([power, consumption, injectors, limit])?;
    let inputs =
        [("power", &power), ("consumption", &consumption), ("injectors", &injectors), ("limit", &limit)];
    calc.derive(&SIZE, Place::CAR, &inputs, |x| &x[0] * &x[1] / (&x[2] * &x[3]))
}

fn size_volume(calc: &mut Calc<'_>, place: Place) -> Got {
    let density = calc.above_zero("fuel-density", Place::CAR);
    let [mass, density] = all([size(calc, place), density])?;
    calc.derive(&VOLUME, Place::CAR, &[("mass", &mass), ("density", &density)], |x| &x[0] / &x[1])
}

fn pound_hour(calc: &mut Calc<'_>, _: Place) -> Got {
    let density = calc.above_zero("fuel-density", Place::CAR)?;
    calc.derive(&POUND, Place::CAR, &[("density", &density)], |x| 0.453_592_37 / 3600.0 / &x[0])
}

fn pump_pressure(calc: &mut Calc<'_>, _: Place) -> Got {
    let rail = calc.value("fuel-pressure", Place::CAR);
    let boost = calc.value("boost", Place::CAR);
    let [rail, boost] = all([rail, boost])?;
    calc.derive(&PUMP_PRESSURE, Place::CAR, &[("rail", &rail), ("boost", &boost)], |x| &x[0] + &x[1])
}

fn pump_flow(calc: &mut Calc<'_>, _: Place) -> Got {
    let power = calc.above_zero("peak-power", Place::CAR);
    let consumption = calc.above_zero("specific-consumption", Place::CAR);
    let density = calc.above_zero("fuel-density", Place::CAR);
    let margin = calc.value("pump-margin", Place::CAR);
    let [power, consumption, density, margin] = all([power, consumption, density, margin])?;
    let inputs =
        [("power", &power), ("consumption", &consumption), ("density", &density), ("margin", &margin)];
    calc.derive(&PUMP_FLOW, Place::CAR, &inputs, |x| &x[0] * &x[1] / &x[2] * (1.0 + &x[3]))
}
