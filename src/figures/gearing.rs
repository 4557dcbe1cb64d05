//! Ratios as they are typed: a number, or teeth.
//!
//! Speeds and revs are arithmetic, in `grammar/figures.sline`. Must not know the engine or the tyre's pressure.

use super::calc::{Calc, Got};
use super::code::Code;
use super::formula::Formula;
use crate::book::place::Place;
use crate::units::{DimensionId, table};

/// What the program works out.
pub const FIGURES: &[Code] = &[
    ("gear-teeth-ratio", |calc, place| ratio(calc, "gear-ratio", place)),
    ("final-teeth-ratio", |calc, _| ratio(calc, "final-drive", Place::CAR)),
    ("primary-teeth-ratio", |calc, _| ratio(calc, "primary-drive", Place::CAR)),
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
/// A ratio typed as a number or as teeth.
fn ratio(calc: &mut Calc<'_>, name: &str, place: Place) -> Got {
    let id = calc.quantity(name)?;
    if let Some(supposed) = calc.instead(id, place) {
        return calc.positive(supposed);
    }
    let typed = calc.typed(name, place)?;
    let parts = calc.parts_of(&typed, name);
    let [driving] = parts.as_slice() else { return calc.above_zero(name, place) };
    let teeth = table().find_one("teeth", DimensionId::COUNT).unwrap_or_else(|| table().plain());
    let kind = (DimensionId::COUNT, teeth);
    let offset = (driving.start - typed.item.start) as usize;
    let driven_name = format!("{}, teeth driven", typed.name);
    let driving_name = format!("{}, teeth driving", typed.name);
    let driven =
        typed.piece(driven_name, typed.item.driven_teeth(driving), kind, (0, usize::from(typed.item.len)));
    let driving = typed.piece(driving_name, driving.si, kind, (offset, usize::from(driving.len)));
    let (driven, driving) = (calc.piece(driven), calc.piece(driving));
    let (driven, driving) = (calc.positive(driven)?, calc.positive(driving)?);
    calc.derive_of(&TEETH, place, [("driven", &driven), ("driving", &driving)], |[driven, driving]| {
        driven / driving
    })
}
