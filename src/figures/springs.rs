//! Springs at the wheel: rate by motion ratio, with the tyre in series, ride frequency, standing squash.
//!
//! Motion ratio is spring travel over wheel travel throughout. Must not know rolling or cornering.

use super::bench;
use super::calc::{Calc, Fig, Got, Missing};
use super::formula::Formula;
use super::code::Code;
use crate::book::place::Place;
use crate::history::slots::giver;
use crate::units::DimensionId;

macro_rules! figures {
    ($($name:literal $compute:ident;)*) => {
        /// The field's figures.
        pub const FIGURES: &[Code] = &[
            $(($name, $compute)),*
        ];
    };
}
figures! {
    "wheel-rate" wheel_rate;
    "ride-rate" ride_rate;
    "ride-frequency" frequency;
    "static-deflection" deflection;
}

const WHEEL: Formula = Formula {
    id: "wheel-rate",
    name: "wheel rate",
    expression: "k * mr^2",
    source: "Milliken & Milliken, Race Car Vehicle Dynamics, ch. 16",
    convention: "motion ratio is spring travel over wheel travel; its change with travel is left out",
    dimension: DimensionId::STIFFNESS,
    shown: "",
    show: [None, None],
};
const RIDE: Formula = Formula {
    id: "ride-rate",
    name: "ride rate",
    expression: "kw * kt / (kw + kt)",
    source: "Milliken & Milliken, Race Car Vehicle Dynamics, ch. 16",
    convention: "spring at the wheel and tyre in series",
    dimension: DimensionId::STIFFNESS,
    shown: "",
    show: [None, None],
};
const SPRUNG: Formula = Formula {
    id: "sprung-weight",
    name: "sprung weight",
    expression: "w - 9.80665 * m",
    source: "common practice",
    convention: "what the pad reads less the unsprung mass at standard gravity",
    dimension: DimensionId::WEIGHT,
    shown: "",
    show: [None, None],
};
const FREQUENCY: Formula = Formula {
    id: "ride-frequency",
    name: "ride frequency",
    expression: "sqrt(kw * 9.80665 / w) / (2 * 3.141592653589793)",
    source: "Gillespie, Fundamentals of Vehicle Dynamics, ch. 5",
    convention: "sprung weight on the wheel rate; the tyre is left out, and no damping",
    dimension: DimensionId::FREQUENCY,
    shown: "",
    show: [None, None],
};
const DEFLECTION: Formula = Formula {
    id: "static-deflection",
    name: "standing deflection",
    expression: "w / kw",
    source: "Gillespie, Fundamentals of Vehicle Dynamics, ch. 5",
    convention: "sprung weight over wheel rate, at the wheel: a straight-line spring's whole way down",
    dimension: DimensionId::LENGTH,
    shown: "",
    show: [None, None],
};

/// The spring's own rate at a corner: what was put in its place, the fitted spring on the bench, its tag, or what was set.
pub(super) fn spring(calc: &mut Calc<'_>, place: Place) -> Got {
    let id = calc.quantity("spring-rate")?;
    if let Some(fig) = calc.instead(id, place) {
        return Ok(fig);
    }
    let carriers = &calc.history.slots.carriers;
    match giver(carriers, calc.book, &calc.history.parts, calc.car, id, place, calc.rank) {
        Some(part) => bench::of_part(calc, part, "spring-rate", None),
        None => calc.value("spring-rate", place),
    }
}

/// A corner is wanted; anything else says so.
pub(super) fn corner(place: Place) -> Got<()> {
    if place.is_corner() { Ok(()) } else { Err(Missing::one("a corner: LF, RF, LR or RR")) }
}

/// A value that has to be above nothing.
pub(super) fn positive(calc: &Calc<'_>, fig: Fig) -> Got {
    if fig.value > 0.0 {
        return Ok(fig);
    }
    let name = calc.nodes.get(fig.node).map_or("a value", |node| node.name.as_str());
    Err(Missing::one(format!("{name} above nothing")))
}

/// Two inputs, or all that is missing of both.
pub(super) fn both(first: Got, second: Got) -> Got<(Fig, Fig)> {
    match (first, second) {
        (Ok(first), Ok(second)) => Ok((first, second)),
        (Err(mut first), Err(second)) => {
            for need in second.needs {
                if !first.needs.contains(&need) {
                    first.needs.push(need);
                }
            }
            Err(first)
        }
        (Err(missing), _) | (_, Err(missing)) => Err(missing),
    }
}

/// Rate of the spring at the wheel.
pub(super) fn wheel_rate(calc: &mut Calc<'_>, place: Place) -> Got {
    corner(place)?;
    let rate = spring(calc, place).and_then(|fig| positive(calc, fig));
    let ratio = calc.value("motion-ratio", place).and_then(|fig| positive(calc, fig));
    let (rate, ratio) = both(rate, ratio)?;
    calc.derive(&WHEEL, place, &[("k", &rate), ("mr", &ratio)], |at| &at[0] * at[1].powi(2))
}

fn ride_rate(calc: &mut Calc<'_>, place: Place) -> Got {
    corner(place)?;
    let wheel = wheel_rate(calc, place);
    let tyre = calc.value("tyre-rate", place).and_then(|fig| positive(calc, fig));
    let (wheel, tyre) = both(wheel, tyre)?;
    calc.derive(&RIDE, place, &[("kw", &wheel), ("kt", &tyre)], |at| &at[0] * &at[1] / (&at[0] + &at[1]))
}

/// What the spring of a corner carries.
fn sprung(calc: &mut Calc<'_>, place: Place) -> Got {
    let pad = calc.reading("weight", place);
    let mass = calc.value("unsprung-mass", place);
    let (pad, mass) = both(pad, mass)?;
    let sprung = calc.derive(&SPRUNG, place, &[("w", &pad), ("m", &mass)], |at| &at[0] - 9.80665 * &at[1])?;
    if sprung.value <= 0.0 {
        return Err(Missing::one("an unsprung mass below what the pad reads"));
    }
    Ok(sprung)
}

fn frequency(calc: &mut Calc<'_>, place: Place) -> Got {
    corner(place)?;
    let (wheel, weight) = both(wheel_rate(calc, place), sprung(calc, place))?;
    calc.derive(&FREQUENCY, place, &[("kw", &wheel), ("w", &weight)], |at| {
        (&at[0] * 9.80665 / &at[1]).sqrt() / std::f64::consts::TAU
    })
}

fn deflection(calc: &mut Calc<'_>, place: Place) -> Got {
    corner(place)?;
    let (wheel, weight) = both(wheel_rate(calc, place), sprung(calc, place))?;
    calc.derive(&DEFLECTION, place, &[("kw", &wheel), ("w", &weight)], |at| &at[1] / &at[0])
}
