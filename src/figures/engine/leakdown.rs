//! Leak-down: the pressures inside what was typed, the other cylinders of one line, the drift over hours.
//!
//! Readings compare only on the same tester, orifice and supply. Must not know compression.

use super::cylinders::of_one_line;
use super::drift;
use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing};
use crate::figures::code::Code;
use crate::figures::formula::Formula;
use crate::units::{DimensionId, table};

/// What the program works out.
pub const FIGURES: &[Code] = &[
    ("leakdown-held", |calc, place| pair(calc, place).map(|[held, _]| held)),
    ("leakdown-supply", |calc, place| pair(calc, place).map(|[_, supply]| supply)),
    ("leakdown-others-low", |calc, place| middle(calc, place, false)),
    ("leakdown-others-high", |calc, place| middle(calc, place, true)),
    ("leakdown-per-hour", per_hour),
];

const PER_HOUR: Formula = Formula {
    id: "leakdown-per-hour",
    name: "loss gained in an engine hour",
    expression: "slope(h, y)",
    source: "common practice",
    convention: "least squares over the readings like the last one (hot or cold and supply pressure the same); positive: it gets worse",
    dimension: DimensionId::RATIO_PER_TIME,
    shown: "%/h",
    show: [None, None],
};
/// Pressure held and supply, where they were typed; what was typed in per cent has neither.
fn pair(calc: &mut Calc<'_>, place: Place) -> Got<[Fig; 2]> {
    calc.reading("leakdown", place)?;
    let none = || Missing::one(format!("{} as pressure held over supply, such as 72/80 psi", "leakdown"));
    let typed = calc.typed("leakdown", place)?;
    let text = calc.files.text(typed.item.span(typed.file)).to_owned();
    let (Some((held, supply)), Some(entry)) = (text.split_once('/'), typed.entry) else {
        return Err(none());
    };
    let unit = drift::pressure_unit_after(calc, entry, typed.item.start + u32::from(typed.item.len));
    let kind = unit.map_or((DimensionId::RATIO, table().plain()), |unit| (DimensionId::PRESSURE, unit));
    let number = |text: &str| text.trim().parse::<f64>().ok().map(|value| kind.1.get().to_si(value));
    let (Some(held_si), Some(supply_si)) = (number(held), number(supply)) else { return Err(none()) };
    let held_piece = typed.piece(format!("pressure held, {}", typed.name), held_si, kind, (0, held.len()));
    let at = (held.len() + 1, supply.len());
    let supply_piece = typed.piece(format!("supply pressure, {}", typed.name), supply_si, kind, at);
    let (held, supply) = (calc.piece(held_piece), calc.piece(supply_piece));
    Ok([held, supply])
}

/// The lower or the higher of the middle two of the other cylinders of the newest line.
fn middle(calc: &mut Calc<'_>, place: Place, higher: bool) -> Got {
    let mut others: Vec<Fig> = Vec::new();
    let places = of_one_line(calc, "leakdown")?;
    if !places.contains(&place) {
        return Err(Missing::one("a cylinder, such as c1"));
    }
    for other in places.iter().filter(|other| **other != place) {
        others.push(calc.named("leakdown-lost", *other)?);
    }
    others.sort_by(|a, b| a.value.total_cmp(&b.value));
    let at = if higher { others.len() / 2 } else { (others.len() - 1) / 2 };
    others.get(at).cloned().ok_or_else(|| Missing::one("leakdown of another cylinder on the same line"))
}

fn per_hour(calc: &mut Calc<'_>, place: Place) -> Got {
    let like = drift::like(calc, "leakdown", place)?;
    drift::slope(calc, "leakdown", place, &like, &PER_HOUR, |calc| calc.named("leakdown-lost", place))
}
