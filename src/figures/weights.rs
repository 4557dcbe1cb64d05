//! Weights: total, front, left and cross shares from the four pads.
//!
//! The shares are the trade's own definitions (common practice); cross is right front and left rear here, always.

use super::calc::{Calc, Fig, Got, Missing, Status};
use super::formula::Formula;
use super::code::Code;
use crate::book::entry::Flags;
use crate::book::place::Place;
use crate::units::DimensionId;

/// The field's figures.
pub const FIGURES: &[Code] = &[
    ("total-weight", total),
    ("front-weight", front),
    ("left-weight", left),
    ("corner-weight", corner),
    ("weight-now", now),
    ("cross-weight", cross),
];

const TOTAL: Formula = Formula {
    id: "total-weight",
    name: "total weight",
    expression: "lf + rf + lr + rr",
    source: "common practice",
    convention: "four pads read together, at the conditions on the line",
    dimension: DimensionId::WEIGHT,
    shown: "",
    show: [None, None],
};
const FRONT: Formula = Formula {
    id: "front-weight",
    name: "front share of the weight",
    expression: "(lf + rf) / (lf + rf + lr + rr)",
    source: "common practice",
    convention: "share of the total",
    dimension: DimensionId::RATIO,
    shown: "%",
    show: [None, None],
};
const LEFT: Formula = Formula {
    id: "left-weight",
    name: "left share of the weight",
    expression: "(lf + lr) / (lf + rf + lr + rr)",
    source: "common practice",
    convention: "left as the driver sits",
    dimension: DimensionId::RATIO,
    shown: "%",
    show: [None, None],
};
const CROSS: Formula = Formula {
    id: "cross-weight",
    name: "cross share of the weight",
    expression: "(rf + lr) / (lf + rf + lr + rr)",
    source: "common practice",
    convention: "cross is right front + left rear",
    dimension: DimensionId::RATIO,
    shown: "%",
    show: [None, None],
};

const FOURTH: Formula = Formula {
    id: "fourth-pad",
    name: "weight not read",
    expression: "total - a - b - c",
    source: "common practice",
    convention: "inferred: the whole car on one scale less the other three pads, at the same conditions",
    dimension: DimensionId::WEIGHT,
    shown: "",
    show: [None, None],
};
const NOW: Formula = Formula {
    id: "weight-now",
    name: "weight with the fuel it has now",
    expression: "total - 9.80665 * density * (then - now)",
    source: "common practice",
    convention: "fuel on the pads' line less fuel now, at standard gravity",
    dimension: DimensionId::WEIGHT,
    shown: "",
    show: [None, None],
};

/// The newest line that read a pad.
pub(super) fn line_of_pads(calc: &Calc<'_>) -> Got<u32> {
    let id = calc.quantity("weight")?;
    let rank = |entry: u32| calc.history.order.rank.get(entry as usize).copied();
    let newest = Place::CORNERS
        .iter()
        .filter_map(|corner| calc.state(id, *corner)?.held.read)
        .max_by_key(|event| rank(event.entry));
    newest.map(|event| event.entry).ok_or_else(|| Missing::one("a reading of weight at the four corners"))
}

/// The four pads of the last line that read them: one state of the car, never a mixture of days. One that was not read is
/// worked out where the same block states the total.
pub(super) fn pads(calc: &mut Calc<'_>) -> Got<[Fig; 4]> {
    let id = calc.quantity("weight")?;
    let entry = line_of_pads(calc)?;
    let items = calc.book.items_of(&calc.book.entries[entry as usize]);
    let read = |corner: Place| {
        items.iter().any(|item| item.place == corner && item.has_value() && !item.is(Flags::OLD))
    };
    let unread: Vec<Place> = Place::CORNERS.into_iter().filter(|corner| !read(*corner)).collect();
    let mut needs: Vec<String> = unread
        .iter()
        .map(|corner| format!("{} on the same line as the others", calc.slot_name(id, *corner)))
        .collect();
    let total = match unread.as_slice() {
        [] => None,
        [_] => stated_total(calc, entry),
        _ => return Err(Missing { needs }),
    };
    if unread.len() == 1 && total.is_none() {
        needs[0].push_str(", or total-weight read in the same block");
        return Err(Missing { needs });
    }
    let mut pads = Vec::new();
    for corner in Place::CORNERS {
        if read(corner) {
            pads.push(calc.reading("weight", corner)?);
        }
    }
    if let ([missing], Some(total), [a, b, c]) = (unread.as_slice(), &total, pads.as_slice()) {
        let inputs = [("total", total), ("a", a), ("b", b), ("c", c)];
        let fourth = calc.derive_as(&FOURTH, *missing, &inputs, Some(Status::Inferred), |w| {
            &w[0] - &w[1] - &w[2] - &w[3]
        })?;
        if fourth.value <= 0.0 {
            return Err(Missing::one("a total-weight above the three pads together"));
        }
        let at = Place::CORNERS.iter().position(|corner| corner == missing).unwrap_or(0);
        pads.insert(at, fourth);
    }
    pads.try_into().map_err(|_| Missing::one("a reading of weight at the four corners"))
}

/// The total read in the same block as the pads.
fn stated_total(calc: &mut Calc<'_>, pads: u32) -> Option<Fig> {
    let id = calc.quantity("total-weight").ok()?;
    let event = calc.state(id, Place::CAR)?.held.read?;
    let head = |entry: u32| calc.book.entries.get(entry as usize).map(|entry| entry.head);
    (head(event.entry) == head(pads)).then(|| calc.reading("total-weight", Place::CAR).ok()).flatten()
}

fn corner(calc: &mut Calc<'_>, place: Place) -> Got {
    super::springs::corner(place)?;
    let at = Place::CORNERS.iter().position(|corner| *corner == place).unwrap_or(0);
    pads(calc).map(|pads| pads[at].clone())
}

fn now(calc: &mut Calc<'_>, place: Place) -> Got {
    let total = total(calc, place)?;
    let entry = line_of_pads(calc)?;
    let then = fuel_on_the_pads(calc, entry)?;
    let now = calc.value("fuel", Place::CAR)?;
    let density = density(calc)?;
    let inputs = [("total", &total), ("density", &density), ("then", &then), ("now", &now)];
    calc.derive(&NOW, Place::CAR, &inputs, |at| &at[0] - 9.80665 * &at[1] * (&at[2] - &at[3]))
}

/// The fuel that the pads' line states, as a volume.
pub(super) fn fuel_on_the_pads(calc: &mut Calc<'_>, entry: u32) -> Got {
    let then = calc.condition(entry, "fuel", DimensionId::VOLUME)?;
    let unit = calc.nodes.get(then.node).and_then(|node| node.unit);
    if unit.is_none_or(|unit| unit.get().dim != DimensionId::VOLUME.get().dim) {
        return Err(Missing::one("the fuel on the weight line as a volume, such as `with fuel 20 L`"));
    }
    Ok(then)
}

/// The fuel's density, set or petrol's.
pub(super) fn density(calc: &mut Calc<'_>) -> Got {
    let id = calc.quantity("fuel-density")?;
    if calc.state(id, Place::CAR).is_some() {
        return calc.value("fuel-density", Place::CAR);
    }
    Ok(calc.default(
        "petrol of 0.745 kg/L",
        745.0,
        DimensionId::DENSITY,
        "no fuel-density is set; EN 228 permits 0.720 to 0.775 kg/L at 15 C",
    ))
}

fn of_pads(
    calc: &mut Calc<'_>,
    formula: &'static Formula,
    compute: impl Fn(&[super::dual::Dual]) -> super::dual::Dual,
) -> Got {
    let [lf, rf, lr, rr] = pads(calc)?;
    calc.derive_as(
        formula,
        Place::CAR,
        &[("lf", &lf), ("rf", &rf), ("lr", &lr), ("rr", &rr)],
        Some(Status::Derived),
        compute,
    )
}

pub(super) fn total(calc: &mut Calc<'_>, _: Place) -> Got {
    of_pads(calc, &TOTAL, |w| &w[0] + &w[1] + &w[2] + &w[3])
}

pub(super) fn front(calc: &mut Calc<'_>, _: Place) -> Got {
    of_pads(calc, &FRONT, |w| (&w[0] + &w[1]) / (&w[0] + &w[1] + &w[2] + &w[3]))
}

fn left(calc: &mut Calc<'_>, _: Place) -> Got {
    of_pads(calc, &LEFT, |w| (&w[0] + &w[2]) / (&w[0] + &w[1] + &w[2] + &w[3]))
}

pub(super) fn cross(calc: &mut Calc<'_>, _: Place) -> Got {
    of_pads(calc, &CROSS, |w| (&w[1] + &w[2]) / (&w[0] + &w[1] + &w[2] + &w[3]))
}
