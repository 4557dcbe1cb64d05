//! The pair-finder: the rates wanted at a bar's softest and stiffest setting, and what is owned that comes nearest.
//!
//! Wanted rates are the book's own line, `set bar-rate-wanted front 28/54 N/mm`. Must not know how it is shown.

use super::rates::{nearest, told};
use crate::book::entry::Flags;
use crate::book::place::Place;
use crate::figures::Formula;
use crate::figures::calc::{Calc, Fig, Got, Missing, Status};
use crate::figures::code::Code;
use crate::units::DimensionId;

/// The finder's figures.
pub const FIGURES: &[Code] = &[
    ("softest-wanted", |calc, place| wanted(calc, place).map(|[softest, _]| softest)),
    ("stiffest-wanted", |calc, place| wanted(calc, place).map(|[_, stiffest]| stiffest)),
    ("nearest-to-softest", |calc, place| near(calc, place, |[softest, _]| softest, &SOFTEST)),
    ("nearest-to-stiffest", |calc, place| near(calc, place, |[_, stiffest]| stiffest, &STIFFEST)),
];

const SOFTEST: Formula = Formula {
    id: "nearest-to-softest",
    name: "nearest benched rate to the softest wanted",
    expression: "owned",
    source: "common practice",
    convention: "nearest by ratio among everything benched, one end held",
    dimension: DimensionId::STIFFNESS,
    shown: "",
    show: [None, None],
};
const STIFFEST: Formula =
    Formula { id: "nearest-to-stiffest", name: "nearest benched rate to the stiffest wanted", ..SOFTEST };

/// The two rates wanted at an axle, softest first as typed.
fn wanted(calc: &mut Calc<'_>, place: Place) -> Got<[Fig; 2]> {
    let id = calc.quantity("bar-rate-wanted")?;
    let missing = || {
        Missing::one(format!(
            "`set bar-rate-wanted {}` with the softest and the stiffest rate",
            if place == Place::REAR { "rear" } else { "front" }
        ))
    };
    let asked = calc.state(id, place).and_then(|slot| slot.held.asked);
    let Some((event, entry)) = asked.and_then(|event| Some((event, event.entry?))) else {
        return Err(missing());
    };
    let (Some(soft), Some(stiff)) =
        (calc.book.items.get(event.item()).copied(), calc.book.items.get(event.item().plus(1)).copied())
    else {
        return Err(missing());
    };
    if !stiff.is(Flags::PART) || soft.si <= 0.0 || stiff.si <= 0.0 {
        return Err(missing());
    }
    let mut ends = [
        calc.item("softest rate wanted", entry, &soft, DimensionId::STIFFNESS),
        calc.item("stiffest rate wanted", entry, &stiff, DimensionId::STIFFNESS),
    ];
    // Nobody measured what is wanted.
    for end in &mut ends {
        end.status = Status::Stated;
        if let Some(node) = calc.nodes.get_mut(end.node) {
            node.status = Status::Stated;
        }
    }
    Ok(ends)
}

fn near(
    calc: &mut Calc<'_>,
    place: Place,
    end: impl FnOnce([Fig; 2]) -> Fig,
    formula: &'static Formula,
) -> Got {
    let wanted = end(wanted(calc, place)?);
    let (owned, lacks) = told(calc, "bar-rate");
    // What nobody can tell of may be the nearest.
    if let Some((_, missing)) = lacks.into_iter().next() {
        return Err(missing);
    }
    let Some((rate, _)) = nearest(&owned, wanted.value).and_then(|(at, off)| Some((owned.get(at)?, off)))
    else {
        return Err(Missing::one("a bar or blade with its rate on the bench"));
    };
    let name = &calc.book.parts[rate.part].named.typed;
    let hole = rate.hole.map_or_else(String::new, |hole| format!(" in hole {hole}"));
    if let Some(node) = calc.nodes.get_mut(rate.rate.node) {
        node.name = format!("rate of {name}{hole}");
    }
    calc.derive_of(formula, place, [("owned", &rate.rate), ("wanted", &wanted)], |[owned, _]| owned.clone())
}
