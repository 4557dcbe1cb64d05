//! Height of the centre of gravity, read or worked out from one end lifted.
//!
//! Must not know springs.

use super::calc::{Calc, Fig, Got, Missing};
use super::formula::Formula;
use super::code::Code;
use super::springs::{both, positive};
use super::weights;
use crate::book::entry::Item;
use crate::book::place::Place;
use crate::units::DimensionId;

/// The field's figures.
pub const FIGURES: &[Code] = &[
    ("cg-height", height),
    ("cg-height-per-kilogram", sensitivity),
    ("lifted-wheelbase", lifted_base),
];

const ISO: &str = "ISO 10392:2011, axle lift method; Milliken & Milliken, Race Car Vehicle Dynamics, ch. 18";
const LOCKED: &str =
    "x is the lift, r the loaded radius of all four; suspension locked, tyres hard, fluids full";

const FRONT_GAINS: Formula = Formula {
    id: "cg-height",
    name: "height of the centre of gravity",
    expression: "r + (raised - lf - rf) * l / ((lf + rf + lr + rr) * tan(asin(x / l)))",
    source: ISO,
    convention: LOCKED,
    dimension: DimensionId::LENGTH,
    shown: "",
    show: [None, None],
};
const REAR_GAINS: Formula = Formula {
    expression: "r + (raised - lr - rr) * l / ((lf + rf + lr + rr) * tan(asin(x / l)))",
    ..FRONT_GAINS
};
const SENSITIVITY: Formula = Formula {
    id: "cg-height-per-kilogram",
    name: "height for each kilogram at the scale",
    expression: "9.80665 * l / (w * tan(asin(x / l)))",
    source: ISO,
    convention: "the scale's error of one kilogram moves the height by this; lift higher for less",
    dimension: DimensionId::LENGTH,
    shown: "",
    show: [None, None],
};
const BASE: Formula = Formula {
    id: "lifted-wheelbase",
    name: "wheelbase on the ground plan, one end lifted",
    expression: "sqrt(l^2 - x^2)",
    source: "geometry",
    convention: "x is the lift",
    dimension: DimensionId::LENGTH,
    shown: "",
    show: [None, None],
};

struct Lift {
    height: Fig,
    raised: Fig,
    radius: Option<Fig>,
    /// The front axle was weighed, the rear lifted.
    front_weighed: bool,
}

/// The last `lift` row before the moment.
fn row(calc: &mut Calc<'_>) -> Got<Lift> {
    let id = calc.quantity("cg-height")?;
    let Some((row, broken)) = calc.rows(id).first().copied() else {
        return Err(Missing::one(
            "a reading of cg-height, or a lift under one, such as `lift rear 254 mm front 310 kg radius 300 mm`",
        ));
    };
    if broken {
        return Err(Missing::one("the lift under cg-height put right (it has an error)"));
    }
    let items: Vec<Item> = calc.book.items_of(&calc.book.entries[row as usize]).to_vec();
    let length = |item: &&Item| item.unit().get().dim == DimensionId::LENGTH.get().dim;
    let mut lengths = items.iter().filter(length);
    let weight = items.iter().find(|item| !length(item));
    let (Some(lift), Some(weight)) = (lengths.next(), weight) else {
        return Err(Missing::one("a lift with its height and what the other end then weighs"));
    };
    let right = lift.place.is_axle() && weight.place.is_axle() && lift.place != weight.place;
    if !right || lift.si <= 0.0 {
        return Err(Missing::one("a lift of one end with what the other end then weighs"));
    }
    let radius = lengths.next().copied();
    let front_weighed = weight.place == Place::FRONT;
    let (lift, weight) = (*lift, *weight);
    Ok(Lift {
        height: calc.item("lift", row, &lift, DimensionId::LENGTH),
        raised: calc.item("weight of the other end, lifted", row, &weight, DimensionId::WEIGHT),
        radius: radius.map(|item| calc.item("loaded radius", row, &item, DimensionId::LENGTH)),
        front_weighed,
    })
}

fn wheelbase(calc: &mut Calc<'_>, lift: &Fig) -> Got {
    let base = calc.value("wheelbase", Place::CAR).and_then(|fig| positive(calc, fig))?;
    if lift.value >= base.value {
        return Err(Missing::one("a lift below the wheelbase"));
    }
    Ok(base)
}

/// The height: what was read or set, else by lift.
pub(super) fn height(calc: &mut Calc<'_>, _: Place) -> Got {
    let id = calc.quantity("cg-height")?;
    if calc.state(id, Place::CAR).is_some() || calc.what_if.iter().any(|one| one.0 == id) {
        return calc.value("cg-height", Place::CAR);
    }
    let lift = row(calc)?;
    let Some(radius) = lift.radius else {
        return Err(Missing::one("the loaded radius on the lift row, such as `radius 300 mm`"));
    };
    let base = wheelbase(calc, &lift.height);
    let pads = weights::pads(calc);
    let (base, [lf, rf, lr, rr]) = match (base, pads) {
        (Ok(base), Ok(pads)) => (base, pads),
        (base, pads) => {
            let needs = base.err().into_iter().chain(pads.err()).flat_map(|missing| missing.needs).collect();
            return Err(Missing { needs });
        }
    };
    let formula = if lift.front_weighed { &FRONT_GAINS } else { &REAR_GAINS };
    let own = if lift.front_weighed { [4, 5] } else { [6, 7] };
    let inputs = [
        ("r", &radius),
        ("raised", &lift.raised),
        ("l", &base),
        ("x", &lift.height),
        ("lf", &lf),
        ("rf", &rf),
        ("lr", &lr),
        ("rr", &rr),
    ];
    calc.derive(formula, Place::CAR, &inputs, |at| {
        let gain = &at[1] - &at[own[0]] - &at[own[1]];
        let total = &at[4] + &at[5] + &at[6] + &at[7];
        &at[0] + gain * &at[2] / (total * (&at[3] / &at[2]).asin().tan())
    })
}

fn sensitivity(calc: &mut Calc<'_>, _: Place) -> Got {
    let lift = row(calc)?;
    let (base, weight) = both(wheelbase(calc, &lift.height), weights::total(calc, Place::CAR))?;
    let inputs = [("l", &base), ("w", &weight), ("x", &lift.height)];
    calc.derive(&SENSITIVITY, Place::CAR, &inputs, |at| {
        9.80665 * &at[0] / (&at[1] * (&at[2] / &at[0]).asin().tan())
    })
}

fn lifted_base(calc: &mut Calc<'_>, _: Place) -> Got {
    let lift = row(calc)?;
    let base = wheelbase(calc, &lift.height)?;
    calc.derive(&BASE, Place::CAR, &[("l", &base), ("x", &lift.height)], |at| {
        (at[0].powi(2) - at[1].powi(2)).sqrt()
    })
}
