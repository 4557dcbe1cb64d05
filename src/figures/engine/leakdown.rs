//! Leak-down: the share lost, each cylinder against the median of the others, the orifice, the drift over hours.
//!
//! Readings compare only on the same tester, orifice and supply. Must not know compression.

use super::cylinders::of_one_line;
use super::drift;
use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing};
use crate::figures::formula::Formula;
use crate::figures::code::Code;
use crate::units::{DimensionId, table};

/// The figures.
pub const FIGURES: &[Code] = &[
    ("leakdown-lost", lost_checked),
    ("leakdown-above", above),
    ("leakdown-per-hour", per_hour),
    ("leakdown-orifice-size", orifice),
];

const FAA: &str = "FAA AC 43.13-1B (Chg 1), paragraph 8-14, differential compression test";

const LOST: Formula = Formula {
    id: "leakdown-lost",
    name: "loss of the supply",
    expression: "(supply - held) / supply",
    source: FAA,
    convention: "pressure held over supply; compare only the same tester, orifice and supply",
    dimension: DimensionId::RATIO,
    shown: "%",
    show: [None, None],
};
const MEDIAN: Formula = Formula {
    id: "leakdown-median",
    name: "median of the other cylinders",
    expression: "(low + high) / 2",
    source: "common practice",
    convention: "of the other cylinders on the same line; low and high are the middle two, or the middle one twice",
    dimension: DimensionId::RATIO,
    shown: "%",
    show: [None, None],
};
const ABOVE: Formula = Formula {
    id: "leakdown-above",
    name: "loss above the median of the others",
    expression: "own - others",
    source: "common practice",
    convention: "in points of per cent; a cylinder on its own stands out",
    dimension: DimensionId::RATIO,
    shown: "%",
    show: [None, None],
};
const PER_HOUR: Formula = Formula {
    id: "leakdown-per-hour",
    name: "loss gained in an engine hour",
    expression: "3600 * slope(h, y)",
    source: "common practice",
    convention: "least squares over the readings like the last one (hot or cold and supply pressure the same); positive: it gets worse",
    dimension: DimensionId::RATIO,
    shown: "%",
    show: [None, None],
};
const ORIFICE: Formula = Formula {
    id: "leakdown-orifice-size",
    name: "orifice for this bore",
    expression: "orifice",
    source: FAA,
    convention: "0.040 in for bores under 5.00 in, else 0.060 in",
    dimension: DimensionId::LENGTH,
    shown: "in",
    show: [None, None],
};

/// Beyond this share the aviation circular calls the cylinder suspect; a quarter itself is not beyond.
const SUSPECT: f64 = 0.25;

/// The share lost: as typed in per cent, or from pressure held over supply.
fn lost(calc: &mut Calc<'_>, place: Place) -> Got {
    let reading = calc.reading("leakdown", place)?;
    let typed = calc.typed("leakdown", place)?;
    let text = calc.files.text(typed.item.span(typed.file)).to_owned();
    let (Some((held, supply)), Some(entry)) = (text.split_once('/'), typed.entry) else {
        return Ok(reading);
    };
    let unit = drift::pressure_unit_after(calc, entry, typed.item.start + u32::from(typed.item.len));
    let kind = unit.map_or((DimensionId::RATIO, table().plain()), |unit| {
        (DimensionId::PRESSURE, table().by_index(unit))
    });
    let number = |text: &str| text.trim().parse::<f64>().ok().map(|value| kind.1.get().to_si(value));
    let (Some(held_si), Some(supply_si)) = (number(held), number(supply)) else { return Ok(reading) };
    let held_piece = typed.piece(format!("pressure held, {}", typed.name), held_si, kind, (0, held.len()));
    let at = (held.len() + 1, supply.len());
    let supply_piece = typed.piece(format!("supply pressure, {}", typed.name), supply_si, kind, at);
    let (held, supply) = (calc.piece(held_piece), calc.piece(supply_piece));
    let supply = calc.positive(supply)?;
    calc.derive(&LOST, place, &[("held", &held), ("supply", &supply)], |x| (&x[1] - &x[0]) / &x[1])
}

fn lost_checked(calc: &mut Calc<'_>, place: Place) -> Got {
    let lost = lost(calc, place)?;
    if lost.value > SUSPECT + 1e-12 {
        calc.caution(&lost, "over 25 % of the supply lost: cause to suspect the cylinder");
    }
    Ok(lost)
}

fn above(calc: &mut Calc<'_>, place: Place) -> Got {
    let mut others: Vec<Fig> = Vec::new();
    let places = of_one_line(calc, "leakdown")?;
    if !places.contains(&place) {
        return Err(Missing::one("a cylinder, such as c1"));
    }
    for other in places.iter().filter(|other| **other != place) {
        others.push(lost(calc, *other)?);
    }
    others.sort_by(|a, b| a.value.total_cmp(&b.value));
    let (low, high) = (&others[(others.len() - 1) / 2], &others[others.len() / 2]);
    let median =
        calc.derive(&MEDIAN, Place::CAR, &[("low", low), ("high", high)], |x| (&x[0] + &x[1]) / 2.0)?;
    let own = lost(calc, place)?;
    calc.derive(&ABOVE, place, &[("own", &own), ("others", &median)], |x| &x[0] - &x[1])
}

fn per_hour(calc: &mut Calc<'_>, place: Place) -> Got {
    let like = drift::like(calc, "leakdown", place)?;
    drift::slope(calc, "leakdown", place, &like, &PER_HOUR, |calc| lost(calc, place))
}

fn orifice(calc: &mut Calc<'_>, _: Place) -> Got {
    let bore = calc.above_zero("cylinder-bore", Place::CAR)?;
    let orifice = if bore.value < 5.0 * 0.0254 - 1e-9 {
        calc.default("orifice for a bore under 5.00 in", 0.040 * 0.0254, DimensionId::LENGTH, FAA)
    } else {
        calc.default("orifice for a bore of 5.00 in and over", 0.060 * 0.0254, DimensionId::LENGTH, FAA)
    };
    calc.derive(&ORIFICE, Place::CAR, &[("orifice", &orifice), ("bore", &bore)], |x| x[0].clone())
}
