//! How the braking should be shared: ideal share against deceleration, what the brakes reach, how well they use the grip.
//!
//! Must not know hydraulics beyond the axle forces.

use super::hydraulics::{axle, force};
use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got};
use crate::figures::formula::Formula;
use crate::figures::code::Code;
use crate::figures::typed::all;
use crate::figures::weights;
use crate::units::DimensionId;

/// The figures.
pub const FIGURES: &[Code] = &[
    ("ideal-brake-share", ideal),
    ("braking-deceleration", deceleration),
    ("braking-weight", load),
    ("friction-used", friction),
    ("brake-efficiency", efficiency),
];

const GILLESPIE: &str = "Gillespie, Fundamentals of Vehicle Dynamics (SAE 1992), ch. 3";

const IDEAL: Formula = Formula {
    id: "ideal-brake-share",
    name: "ideal front share of the braking",
    expression: "front + deceleration / 9.80665 * height / wheelbase",
    source: GILLESPIE,
    convention: "both axles at the same grip; level road, no drag, no downforce",
    dimension: DimensionId::RATIO,
    shown: "%",
    show: [None, None],
};
const DECELERATION: Formula = Formula {
    id: "braking-deceleration",
    name: "deceleration by the brakes",
    expression: "9.80665 * (front + rear) / total",
    source: GILLESPIE,
    convention: "brakes alone: no drag, no rolling resistance, wheels turning",
    dimension: DimensionId::ACCELERATION,
    shown: "g",
    show: [None, None],
};
const AXLE: Formula = Formula {
    id: "axle-weight",
    name: "standing load of the axle",
    expression: "left + right",
    source: "common practice",
    convention: "pads under the two wheels",
    dimension: DimensionId::WEIGHT,
    shown: "",
    show: [None, None],
};
const LOAD_FRONT: Formula = Formula {
    id: "braking-weight-front",
    name: "load of the front axle under braking",
    expression: "standing + total * deceleration / 9.80665 * height / wheelbase",
    source: GILLESPIE,
    convention: "level road, no downforce",
    dimension: DimensionId::WEIGHT,
    shown: "",
    show: [None, None],
};
const LOAD_REAR: Formula = Formula {
    id: "braking-weight-rear",
    name: "load of the rear axle under braking",
    expression: "standing - total * deceleration / 9.80665 * height / wheelbase",
    source: GILLESPIE,
    convention: "level road, no downforce",
    dimension: DimensionId::WEIGHT,
    shown: "",
    show: [None, None],
};
const FRICTION: Formula = Formula {
    id: "friction-used",
    name: "grip used",
    expression: "force / load",
    source: GILLESPIE,
    convention: "brake force of the axle over its load under that braking",
    dimension: DimensionId::RATIO,
    shown: "",
    show: [None, None],
};
const EFFICIENCY: Formula = Formula {
    id: "brake-efficiency",
    name: "braking efficiency",
    expression: "deceleration / 9.80665 / max(front, rear)",
    source: GILLESPIE,
    convention: "deceleration in g over the greater of the two grips used",
    dimension: DimensionId::RATIO,
    shown: "%",
    show: [None, None],
};

/// Front share of the weight: from the pads, else as typed.
fn front_share(calc: &mut Calc<'_>) -> Got {
    match weights::front(calc, Place::CAR) {
        Ok(share) => Ok(share),
        Err(_) => calc.value("front-weight", Place::CAR),
    }
}

fn ideal(calc: &mut Calc<'_>, _: Place) -> Got {
    let deceleration = calc.value("deceleration", Place::CAR);
    let height = calc.above_zero("cg-height", Place::CAR);
    let wheelbase = calc.above_zero("wheelbase", Place::CAR);
    let [front, deceleration, height, wheelbase] = all([front_share(calc), deceleration, height, wheelbase])?;
    let inputs =
        [("front", &front), ("deceleration", &deceleration), ("height", &height), ("wheelbase", &wheelbase)];
    calc.derive(&IDEAL, Place::CAR, &inputs, |x| &x[0] + &x[1] / 9.80665 * &x[2] / &x[3])
}

fn deceleration(calc: &mut Calc<'_>, _: Place) -> Got {
    let (front, rear) = (force(calc, Place::FRONT), force(calc, Place::REAR));
    let [front, rear, total] = all([front, rear, weights::total(calc, Place::CAR)])?;
    let inputs = [("front", &front), ("rear", &rear), ("total", &total)];
    calc.derive(&DECELERATION, Place::CAR, &inputs, |x| 9.80665 * (&x[0] + &x[1]) / &x[2])
}

fn load(calc: &mut Calc<'_>, place: Place) -> Got {
    let axle = axle(place)?;
    let [lf, rf, lr, rr] = weights::pads(calc)?;
    let (left, right): (Fig, Fig) = if axle == Place::FRONT { (lf, rf) } else { (lr, rr) };
    let standing = calc.derive(&AXLE, axle, &[("left", &left), ("right", &right)], |x| &x[0] + &x[1])?;
    let height = calc.above_zero("cg-height", Place::CAR);
    let wheelbase = calc.above_zero("wheelbase", Place::CAR);
    let (total, slowing) = (weights::total(calc, Place::CAR), deceleration(calc, Place::CAR));
    let [total, slowing, height, wheelbase] = all([total, slowing, height, wheelbase])?;
    let inputs = [
        ("standing", &standing),
        ("total", &total),
        ("deceleration", &slowing),
        ("height", &height),
        ("wheelbase", &wheelbase),
    ];
    if axle == Place::FRONT {
        calc.derive(&LOAD_FRONT, axle, &inputs, |x| &x[0] + &x[1] * &x[2] / 9.80665 * &x[3] / &x[4])
    } else {
        calc.derive(&LOAD_REAR, axle, &inputs, |x| &x[0] - &x[1] * &x[2] / 9.80665 * &x[3] / &x[4])
    }
}

fn friction(calc: &mut Calc<'_>, place: Place) -> Got {
    let axle = axle(place)?;
    let [force, load] = all([force(calc, axle), load(calc, axle)])?;
    let load = calc.positive(load)?;
    calc.derive(&FRICTION, axle, &[("force", &force), ("load", &load)], |x| &x[0] / &x[1])
}

fn efficiency(calc: &mut Calc<'_>, _: Place) -> Got {
    let (front, rear) = (friction(calc, Place::FRONT), friction(calc, Place::REAR));
    let [slowing, front, rear] = all([deceleration(calc, Place::CAR), front, rear])?;
    let inputs = [("deceleration", &slowing), ("front", &front), ("rear", &rear)];
    calc.derive(&EFFICIENCY, Place::CAR, &inputs, |x| {
        let most = if x[1].value >= x[2].value { &x[1] } else { &x[2] };
        &x[0] / 9.80665 / most
    })
}
