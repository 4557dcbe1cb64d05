//! One bar against another, either of them solid or a tube.
//!
//! Rates from shape are arithmetic, in `grammar/figures.sline`. Diameters and walls come from the bench or the part's tag.

use super::formulas::{SOLID_RATIO, TUBE_RATIO};
use super::{hole, of_part, part};
use crate::book::model::PartId;
use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing};
use crate::figures::compute::Code;
use crate::figures::dual::Dual;
use crate::figures::formula::Formula;
use crate::units::DimensionId;

/// What of them the program works out.
pub(in crate::figures) const FIGURES: &[Code] = &[("bar-against", against)];

/// Everything a part needs, or all that is missing, at once.
fn all<const N: usize>(calc: &mut Calc<'_>, part: PartId, names: [&str; N]) -> Got<Vec<Fig>> {
    let at = hole(calc);
    let mut needs = Vec::new();
    let mut figs = Vec::new();
    for name in names {
        match of_part(calc, part, name, if name == "bar-arm" { at } else { None }) {
            Ok(fig) if fig.value > 0.0 => figs.push(fig),
            Ok(_) => needs.push(format!("a {name} above nothing")),
            Err(missing) => needs.extend(missing.needs),
        }
    }
    if needs.is_empty() { Ok(figs) } else { Err(Missing { needs }) }
}

/// The wall; `None` for a solid bar.
fn wall(calc: &mut Calc<'_>, part: PartId, d: &Fig) -> Got<Option<Fig>> {
    let id = calc.quantity("bar-wall")?;
    let known =
        super::on_bench(calc, part, "bar-wall", None)?.is_some() || calc.tag(part, id, Place::CAR).is_ok();
    if !known {
        return Ok(None);
    }
    let wall = of_part(calc, part, "bar-wall", None)?;
    if wall.value <= 0.0 || 2.0 * wall.value >= d.value {
        return Err(Missing::one("a wall of less than half the bar's diameter"));
    }
    Ok(Some(wall))
}

fn fourth(d: &Dual, bore: &Dual) -> Dual {
    d.powi(4) - if bore.value == 0.0 { Dual::constant(0.0, d.partials.len()) } else { bore.powi(4) }
}

fn against(calc: &mut Calc<'_>, _: Place) -> Got {
    let this = part(calc)?;
    let other = calc.against.ok_or_else(|| Missing::one("another bar, such as `--against bar-2`"))?;
    let d = all(calc, this, ["bar-diameter"])?.remove(0);
    let e = all(calc, other, ["bar-diameter"])?.remove(0);
    let (w, v) = (wall(calc, this, &d)?, wall(calc, other, &e)?);
    if w.is_none() && v.is_none() {
        return calc.derive_of(&SOLID_RATIO, Place::CAR, [("d", &d), ("e", &e)], |[d, e]| (d / e).powi(4));
    }
    // A solid bar is a tube whose wall is half its diameter.
    let full = |calc: &mut Calc<'_>, wall: Option<Fig>, fig: &Fig| match wall {
        Some(wall) => Ok(wall),
        None => calc.derive_of(&SOLID_WALL, Place::CAR, [("d", fig)], |[d]| d / 2.0),
    };
    let w = full(calc, w, &d)?;
    let v = full(calc, v, &e)?;
    let inputs = [("d", &d), ("w", &w), ("e", &e), ("v", &v)];
    calc.derive_of(&TUBE_RATIO, Place::CAR, inputs, |[d, w, e, v]| {
        fourth(d, &(d - 2.0 * w)) / fourth(e, &(e - 2.0 * v))
    })
}

const SOLID_WALL: Formula = Formula {
    id: "solid-wall",
    name: "wall of a solid bar",
    expression: "d / 2",
    source: "geometry",
    convention: "no bar-wall is stated, so the bar is solid",
    dimension: DimensionId::LENGTH,
    shown: "",
    show: [None, None],
};
