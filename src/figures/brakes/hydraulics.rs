//! From the pedal to the wheels: line pressures, torque and force, and the bias they make.
//!
//! A balance bar's share of the pedal force is not the bias of the torques. Must not know the car's weights.

use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing};
use crate::figures::formula::Formula;
use crate::figures::code::Code;
use crate::figures::typed::all;
use crate::units::DimensionId;

/// The figures.
pub const FIGURES: &[Code] = &[
    ("line-pressure-expected", expected),
    ("brake-torque", torque),
    ("brake-force", force),
    ("brake-bias-torque", bias),
    ("brake-bias-cylinders", bias_cylinders),
];

const LIMPERT: &str = "Limpert, Brake Design and Safety, 3rd ed. (SAE 2011), ch. 5, hydraulic brake systems";

const AREA: Formula = Formula {
    id: "cylinder-area",
    name: "area of a bore",
    expression: "0.7853981633974483 * bore ^ 2",
    source: "closed form",
    convention: "a circle",
    dimension: DimensionId::AREA,
    shown: "mm2",
    show: [None, None],
};
const PISTONS: Formula = Formula {
    id: "piston-area",
    name: "piston area on one side of the disc",
    expression: "pistons * 0.7853981633974483 * bore ^ 2",
    source: LIMPERT,
    convention: "one side: a sliding caliper's own pistons, one bank of a fixed caliper",
    dimension: DimensionId::AREA,
    shown: "mm2",
    show: [None, None],
};
const PRESSURE_FRONT: Formula = Formula {
    id: "line-pressure-front",
    name: "line pressure front",
    expression: "force * ratio * share / area",
    source: LIMPERT,
    convention: "twin master cylinders; the bar's front share of the pedal force",
    dimension: DimensionId::PRESSURE,
    shown: "",
    show: [None, None],
};
const PRESSURE_REAR: Formula = Formula {
    id: "line-pressure-rear",
    name: "line pressure rear",
    expression: "force * ratio * (1 - share) / area",
    source: LIMPERT,
    convention: "twin master cylinders; the bar's rear share of the pedal force",
    dimension: DimensionId::PRESSURE,
    shown: "",
    show: [None, None],
};
const TORQUE: Formula = Formula {
    id: "brake-torque",
    name: "brake torque of one wheel",
    expression: "2 * mu * pressure * area * radius",
    source: LIMPERT,
    convention: "two faces of the disc; piston area on one side; effective radius",
    dimension: DimensionId::TORQUE,
    shown: "",
    show: [None, None],
};
const FORCE: Formula = Formula {
    id: "brake-force",
    name: "brake force of the axle",
    expression: "2 * torque / radius",
    source: LIMPERT,
    convention: "two wheels; loaded radius; wheels turning",
    dimension: DimensionId::FORCE,
    shown: "",
    show: [None, None],
};
const BIAS: Formula = Formula {
    id: "brake-bias-torque",
    name: "front share of the brake torque",
    expression: "front / (front + rear)",
    source: LIMPERT,
    convention: "torques, not pressures nor the bar's share",
    dimension: DimensionId::RATIO,
    shown: "%",
    show: [None, None],
};
const GAIN: Formula = Formula {
    id: "brake-gain",
    name: "brake torque for each bit of pressure",
    expression: "2 * mu * area * radius",
    source: LIMPERT,
    convention: "two faces of the disc; piston area on one side; effective radius",
    dimension: DimensionId::VOLUME,
    shown: "cc",
    show: [None, None],
};
const BIAS_CYLINDERS: Formula = Formula {
    id: "brake-bias-cylinders",
    name: "front share of the brake torque by master cylinders and bar",
    expression: "front * share / front_area / (front * share / front_area + rear * (1 - share) / rear_area)",
    source: LIMPERT,
    convention: "torques; twin master cylinders worked by one balance bar",
    dimension: DimensionId::RATIO,
    shown: "%",
    show: [None, None],
};

/// The axle a place is on.
pub(super) fn axle(place: Place) -> Got<Place> {
    match place {
        Place::FRONT | Place::LF | Place::RF => Ok(Place::FRONT),
        Place::REAR | Place::LR | Place::RR => Ok(Place::REAR),
        _ => Err(Missing::one("an axle, `front` or `rear`")),
    }
}

/// The bar's front share of the pedal force.
fn share(calc: &mut Calc<'_>) -> Got {
    let share = calc.value("bar-share", Place::CAR)?;
    calc.within(share, 0.0, 1.0, "from 0 to 100 %")
}

fn master_area(calc: &mut Calc<'_>, axle: Place) -> Got {
    let bore = calc.above_zero("master-bore", axle)?;
    calc.derive(&AREA, axle, &[("bore", &bore)], |x| std::f64::consts::FRAC_PI_4 * (&x[0] * &x[0]))
}

fn expected(calc: &mut Calc<'_>, place: Place) -> Got {
    let axle = axle(place)?;
    let force = calc.value("pedal-force", Place::CAR);
    let ratio = calc.above_zero("pedal-ratio", Place::CAR);
    let [force, ratio, share, area] = all([force, ratio, share(calc), master_area(calc, axle)])?;
    let inputs = [("force", &force), ("ratio", &ratio), ("share", &share), ("area", &area)];
    if axle == Place::FRONT {
        calc.derive(&PRESSURE_FRONT, axle, &inputs, |x| &x[0] * &x[1] * &x[2] / &x[3])
    } else {
        calc.derive(&PRESSURE_REAR, axle, &inputs, |x| &x[0] * &x[1] * (1.0 - &x[2]) / &x[3])
    }
}

/// Line pressure: read, else from the pedal.
fn pressure(calc: &mut Calc<'_>, axle: Place) -> Got {
    calc.value("line-pressure", axle).or_else(|mut missing| {
        expected(calc, axle).map_err(|_| {
            let words = " (or pedal-force, pedal-ratio, bar-share and master-bore)";
            missing.needs.iter_mut().for_each(|need| need.push_str(words));
            missing
        })
    })
}

fn piston_area(calc: &mut Calc<'_>, axle: Place) -> Got {
    let pistons = calc.above_zero("caliper-pistons", axle);
    let bore = calc.above_zero("caliper-bore", axle);
    let [pistons, bore] = all([pistons, bore])?;
    let inputs = [("pistons", &pistons), ("bore", &bore)];
    calc.derive(&PISTONS, axle, &inputs, |x| std::f64::consts::FRAC_PI_4 * (&x[0] * &x[1] * &x[1]))
}

/// Friction, piston area and effective radius of an axle's brakes.
fn brake(calc: &mut Calc<'_>, axle: Place) -> Got<[Fig; 3]> {
    let mu = calc.above_zero("pad-mu", axle);
    let radius = calc.above_zero("brake-radius", axle);
    all([mu, piston_area(calc, axle), radius])
}

fn torque(calc: &mut Calc<'_>, place: Place) -> Got {
    let axle = axle(place)?;
    let pressure = pressure(calc, axle);
    let (pressure, [mu, area, radius]) = match (pressure, brake(calc, axle)) {
        (Ok(pressure), Ok(brake)) => (pressure, brake),
        (pressure, brake) => {
            let mut needs = pressure.err().map_or_else(Vec::new, |missing| missing.needs);
            needs.extend(brake.err().map_or_else(Vec::new, |missing| missing.needs));
            return Err(Missing { needs });
        }
    };
    let inputs = [("mu", &mu), ("pressure", &pressure), ("area", &area), ("radius", &radius)];
    calc.derive(&TORQUE, axle, &inputs, |x| 2.0 * &x[0] * &x[1] * &x[2] * &x[3])
}

pub(super) fn force(calc: &mut Calc<'_>, place: Place) -> Got {
    let axle = axle(place)?;
    let radius = calc.above_zero("loaded-radius", axle);
    let [torque, radius] = all([torque(calc, axle), radius])?;
    calc.derive(&FORCE, axle, &[("torque", &torque), ("radius", &radius)], |x| 2.0 * &x[0] / &x[1])
}

fn bias(calc: &mut Calc<'_>, _: Place) -> Got {
    let [front, rear] = all([torque(calc, Place::FRONT), torque(calc, Place::REAR)])?;
    calc.derive(&BIAS, Place::CAR, &[("front", &front), ("rear", &rear)], |x| &x[0] / (&x[0] + &x[1]))
}

fn gain(calc: &mut Calc<'_>, axle: Place) -> Got {
    let [mu, area, radius] = brake(calc, axle)?;
    let inputs = [("mu", &mu), ("area", &area), ("radius", &radius)];
    calc.derive(&GAIN, axle, &inputs, |x| 2.0 * &x[0] * &x[1] * &x[2])
}

fn bias_cylinders(calc: &mut Calc<'_>, _: Place) -> Got {
    let (front, rear) = (gain(calc, Place::FRONT), gain(calc, Place::REAR));
    let (front_area, rear_area) = (master_area(calc, Place::FRONT), master_area(calc, Place::REAR));
    let [front, rear, share, front_area, rear_area] = all([front, rear, share(calc), front_area, rear_area])?;
    let inputs = [
        ("front", &front),
        ("rear", &rear),
        ("share", &share),
        ("front_area", &front_area),
        ("rear_area", &rear_area),
    ];
    calc.derive(&BIAS_CYLINDERS, Place::CAR, &inputs, |x| {
        let front = &x[0] * &x[2] / &x[3];
        let rear = &x[1] * (1.0 - &x[2]) / &x[4];
        &front / (&front + &rear)
    })
}
