//! Weights: total, front, left and cross shares from the four pads.
//!
//! The shares are the trade's own definitions (common practice); cross is right front and left rear here, always.

use super::calc::{Calc, Fig, Got, Missing, Status};
use super::formula::Formula;
use super::list::{Definition, Sites};
use crate::book::entry::Flags;
use crate::book::place::Place;
use crate::units::DimensionId;

/// The field's figures.
pub const FIGURES: &[Definition] = &[
    Definition {
        name: "total-weight",
        brief: "what the four pads add up to",
        area: "weights",
        sites: Sites::Car,
        compute: total,
    },
    Definition {
        name: "front-weight",
        brief: "front axle's share of the weight",
        area: "weights",
        sites: Sites::Car,
        compute: front,
    },
    Definition {
        name: "left-weight",
        brief: "left side's share of the weight",
        area: "weights",
        sites: Sites::Car,
        compute: left,
    },
    Definition {
        name: "cross-weight",
        brief: "right front and left rear's share of the weight",
        area: "weights",
        sites: Sites::Car,
        compute: cross,
    },
];

const TOTAL: Formula = Formula {
    id: "total-weight",
    name: "total weight",
    expression: "lf + rf + lr + rr",
    source: "common practice",
    convention: "four pads read together, at the conditions on the line",
    dimension: DimensionId::WEIGHT,
    shown: "",
};
const FRONT: Formula = Formula {
    id: "front-weight",
    name: "front share of the weight",
    expression: "(lf + rf) / (lf + rf + lr + rr)",
    source: "common practice",
    convention: "share of the total",
    dimension: DimensionId::RATIO,
    shown: "%",
};
const LEFT: Formula = Formula {
    id: "left-weight",
    name: "left share of the weight",
    expression: "(lf + lr) / (lf + rf + lr + rr)",
    source: "common practice",
    convention: "left as the driver sits",
    dimension: DimensionId::RATIO,
    shown: "%",
};
const CROSS: Formula = Formula {
    id: "cross-weight",
    name: "cross share of the weight",
    expression: "(rf + lr) / (lf + rf + lr + rr)",
    source: "common practice",
    convention: "cross is right front + left rear",
    dimension: DimensionId::RATIO,
    shown: "%",
};

/// The four pads of the last line that read them: one state of the car, never a mixture of days.
pub(super) fn pads(calc: &mut Calc<'_>) -> Got<[Fig; 4]> {
    let id = calc.quantity("weight")?;
    let newest = Place::CORNERS
        .iter()
        .filter_map(|corner| calc.state(id, *corner)?.held.read)
        .max_by_key(|event| calc.history.order.rank.get(event.entry as usize).copied());
    let Some(newest) = newest else { return Err(Missing::one("a reading of weight at the four corners")) };
    let entry = newest.entry;
    let line = &calc.book.entries[entry as usize];
    let items = calc.book.items_of(line);
    let mut needs = Vec::new();
    for corner in Place::CORNERS {
        let read = items.iter().any(|item| item.place == corner && item.has_value() && !item.is(Flags::OLD));
        if !read {
            needs.push(format!("{} on the same line as the others", calc.slot_name(id, corner)));
        }
    }
    if !needs.is_empty() {
        return Err(Missing { needs });
    }
    let mut pads = Vec::new();
    for corner in Place::CORNERS {
        pads.push(calc.reading("weight", corner)?);
    }
    pads.try_into().map_err(|_| Missing::one("a reading of weight at the four corners"))
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

fn cross(calc: &mut Calc<'_>, _: Place) -> Got {
    of_pads(calc, &CROSS, |w| (&w[1] + &w[2]) / (&w[0] + &w[1] + &w[2] + &w[3]))
}
