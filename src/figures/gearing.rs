//! Gearing: ratios from teeth, road speed in each gear, revs after a shift.
//!
//! Must not know the engine or the tyre's pressure.

use super::calc::{Calc, Fig, Got, Missing};
use super::formula::Formula;
use super::code::Code;
use super::typed::{Needs, all};
use super::tyres::rolling_circumference;
use crate::book::place::Place;
use crate::units::{DimensionId, table};

/// The field's figures.
pub const FIGURES: &[Code] = &[
    ("gear-teeth-ratio", gear),
    ("final-drive-ratio", final_drive),
    ("overall-ratio", overall),
    ("speed-per-1000", per_1000),
    ("speed-at-limit", at_limit),
    ("rpm-at-speed", rpm_at_speed),
    ("rpm-after-shift", after_shift),
];

const TEETH: Formula = Formula {
    id: "teeth-ratio",
    name: "ratio from teeth",
    expression: "driven / driving",
    source: "closed form",
    convention: "teeth driven over teeth driving",
    dimension: DimensionId::RATIO,
    shown: "",
    show: [None, None],
};
const CHAIN: Formula = Formula {
    id: "chain-ratio",
    name: "final drive by primary and chain",
    expression: "primary * driven / driving",
    source: "closed form",
    convention: "primary drive, then teeth of the driven over teeth of the driving sprocket",
    dimension: DimensionId::RATIO,
    shown: "",
    show: [None, None],
};
const OVERALL: Formula = Formula {
    id: "overall-ratio",
    name: "overall ratio",
    expression: "gear * final",
    source: "closed form",
    convention: "turns of the engine for one turn of the wheel",
    dimension: DimensionId::RATIO,
    shown: "",
    show: [None, None],
};
const CIRCUMFERENCE: Formula = Formula {
    id: "driven-circumference",
    name: "circumference of the driven wheels",
    expression: "mean(c)",
    source: "common practice",
    convention: "mean of the driven wheels",
    dimension: DimensionId::LENGTH,
    shown: "",
    show: [None, None],
};
const PER_1000: Formula = Formula {
    id: "speed-per-1000",
    name: "road speed for 1000 rpm",
    expression: "1000 / 60 * circumference / ratio",
    source: "closed form",
    convention: "no slip",
    dimension: DimensionId::SPEED,
    shown: "",
    show: [None, None],
};
const SPEED: Formula = Formula {
    id: "speed-at-limit",
    name: "road speed at the rev limit",
    expression: "speed / 6.283185307179586 * circumference / ratio",
    source: "closed form",
    convention: "no slip",
    dimension: DimensionId::SPEED,
    shown: "",
    show: [None, None],
};
const RPM: Formula = Formula {
    id: "rpm-at-speed",
    name: "revs at the road speed",
    expression: "speed * ratio / circumference * 6.283185307179586",
    source: "closed form",
    convention: "no slip",
    dimension: DimensionId::ROTATION,
    shown: "",
    show: [None, None],
};
const AFTER: Formula = Formula {
    id: "rpm-after-shift",
    name: "revs after the shift",
    expression: "before * next / gear",
    source: "closed form",
    convention: "same road speed before and after",
    dimension: DimensionId::ROTATION,
    shown: "",
    show: [None, None],
};

/// A ratio typed as a number or as teeth.
fn ratio(calc: &mut Calc<'_>, name: &str, place: Place) -> Got {
    let typed = calc.typed(name, place)?;
    let parts = calc.parts_of(&typed, name);
    let [driving] = parts.as_slice() else { return calc.above_zero(name, place) };
    let teeth = table().find_one("teeth", DimensionId::COUNT).unwrap_or_else(|| table().plain());
    let kind = (DimensionId::COUNT, teeth);
    let offset = (driving.start - typed.item.start) as usize;
    let driven_name = format!("{}, teeth driven", typed.name);
    let driving_name = format!("{}, teeth driving", typed.name);
    let driven = typed.piece(driven_name, typed.item.si, kind, (0, usize::from(typed.item.len)));
    let driving = typed.piece(driving_name, driving.si, kind, (offset, usize::from(driving.len)));
    let (driven, driving) = (calc.piece(driven), calc.piece(driving));
    let (driven, driving) = (calc.positive(driven)?, calc.positive(driving)?);
    calc.derive(&TEETH, place, &[("driven", &driven), ("driving", &driving)], |x| &x[0] / &x[1])
}

fn gear(calc: &mut Calc<'_>, place: Place) -> Got {
    ratio(calc, "gear-ratio", place)
}

/// The final drive, else primary drive and sprockets.
fn final_drive(calc: &mut Calc<'_>, _: Place) -> Got {
    let missing = match ratio(calc, "final-drive", Place::CAR) {
        Ok(found) => return Ok(found),
        Err(missing) => missing,
    };
    let driving = calc.above_zero("sprocket-front", Place::CAR);
    let driven = calc.above_zero("sprocket-rear", Place::CAR);
    if driving.is_err() && driven.is_err() {
        return Err(missing);
    }
    let [primary, driven, driving] = all([ratio(calc, "primary-drive", Place::CAR), driven, driving])?;
    let inputs = [("primary", &primary), ("driven", &driven), ("driving", &driving)];
    calc.derive(&CHAIN, Place::CAR, &inputs, |x| &x[0] * &x[1] / &x[2])
}

fn overall(calc: &mut Calc<'_>, place: Place) -> Got {
    let [gear, last] = all([gear(calc, place), final_drive(calc, Place::CAR)])?;
    calc.derive(&OVERALL, place, &[("gear", &gear), ("final", &last)], |x| &x[0] * &x[1])
}

/// What the driven wheels roll on.
fn driven_circumference(calc: &mut Calc<'_>) -> Got {
    let drive = calc.book.cars.get(calc.car.0 as usize).map_or("", |car| car.drive.as_str());
    let corners = match drive.to_ascii_lowercase().as_str() {
        "front" => Place::FRONT.corners(),
        "rear" => Place::REAR.corners(),
        "all" | "four" => Place::ALL.corners(),
        _ => return Err(Missing::one("`drive front`, `drive rear` or `drive all` on the car's declaration")),
    };
    let mut needs = Needs::default();
    let mut around: Vec<(String, Fig)> = Vec::new();
    for corner in corners {
        if let Some(fig) = needs.take(rolling_circumference(calc, *corner)) {
            around.push((format!("c{}", around.len() + 1), fig));
        }
    }
    if around.len() < corners.len() {
        return Err(needs.missing());
    }
    let inputs: Vec<(&str, &Fig)> = around.iter().map(|(name, fig)| (name.as_str(), fig)).collect();
    let count = inputs.len() as f64;
    calc.derive(&CIRCUMFERENCE, Place::CAR, &inputs, |x| {
        let sum = x.iter().skip(1).fold(x[0].clone(), |sum, one| sum + one);
        sum / count
    })
}

fn per_1000(calc: &mut Calc<'_>, place: Place) -> Got {
    let [ratio, around] = all([overall(calc, place), driven_circumference(calc)])?;
    calc.derive(&PER_1000, place, &[("circumference", &around), ("ratio", &ratio)], |x| {
        1000.0 / 60.0 * &x[0] / &x[1]
    })
}

fn at_limit(calc: &mut Calc<'_>, place: Place) -> Got {
    let limit = calc.above_zero("rev-limit", Place::CAR);
    let [speed, ratio, around] = all([limit, overall(calc, place), driven_circumference(calc)])?;
    let inputs = [("speed", &speed), ("circumference", &around), ("ratio", &ratio)];
    calc.derive(&SPEED, place, &inputs, |x| &x[0] / std::f64::consts::TAU * &x[1] / &x[2])
}

fn rpm_at_speed(calc: &mut Calc<'_>, place: Place) -> Got {
    let speed = calc.value("road-speed", Place::CAR);
    let [speed, ratio, around] = all([speed, overall(calc, place), driven_circumference(calc)])?;
    let inputs = [("speed", &speed), ("ratio", &ratio), ("circumference", &around)];
    calc.derive(&RPM, place, &inputs, |x| &x[0] * &x[1] / &x[2] * std::f64::consts::TAU)
}

fn after_shift(calc: &mut Calc<'_>, place: Place) -> Got {
    let Some(number) = place.gear_number() else { return Err(Missing::one("a gear, such as g2")) };
    let before = calc.above_zero("shift-speed", Place::CAR);
    let [before, gear, next] = all([before, gear(calc, place), gear(calc, Place::gear(number + 1))])?;
    let inputs = [("before", &before), ("next", &next), ("gear", &gear)];
    calc.derive(&AFTER, place, &inputs, |x| &x[0] * &x[1] / &x[2])
}
