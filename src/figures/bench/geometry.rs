//! Rates from shape: coil springs, torsion, bent bars, one bar against another.
//!
//! Steel is a named default; diameter, wall, arms and lengths come from the bench or the part's tag.

use super::formulas::{COIL, EQUAL_SOLID, HANDBOOK, MASS_RATIO, SOLID_RATIO, TORSION, TUBE_RATIO, U_BAR};
use super::{hole, of_part, part};
use crate::book::model::PartId;
use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing, Status};
use crate::figures::dual::Dual;
use crate::figures::formula::Formula;
use crate::units::DimensionId;

const STEEL: &str = "Shigley, Mechanical Engineering Design, table A-5, carbon steel";
const PI: f64 = std::f64::consts::PI;

const BORE: Formula = Formula {
    id: "bar-bore",
    name: "bore of the bar",
    expression: "d - 2 * w",
    source: "geometry",
    convention: "outside diameter less two walls",
    dimension: DimensionId::LENGTH,
    shown: "",
    show: [None, None],
};

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

/// The bore; `None` for a bar without a wall, which is solid.
fn bore(calc: &mut Calc<'_>, part: PartId, d: &Fig) -> Got<Option<Fig>> {
    let Some(wall) = wall(calc, part, d)? else { return Ok(None) };
    calc.derive(&BORE, Place::CAR, &[("d", d), ("w", &wall)], |at| &at[0] - 2.0 * &at[1]).map(Some)
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

fn solid(calc: &mut Calc<'_>) -> Fig {
    calc.default("bore (solid bar)", 0.0, DimensionId::LENGTH, "no bar-wall is stated, so the bar is solid")
}

/// Shear modulus: the part's tag, else carbon steel's.
fn shear(calc: &mut Calc<'_>, part: PartId) -> Fig {
    of_part(calc, part, "shear-modulus", None)
        .unwrap_or_else(|_| calc.default("shear modulus of steel", 79.3e9, DimensionId::PRESSURE, STEEL))
}

/// Elastic modulus: the part's tag, else carbon steel's.
fn elastic(calc: &mut Calc<'_>, part: PartId) -> Fig {
    of_part(calc, part, "elastic-modulus", None)
        .unwrap_or_else(|_| calc.default("elastic modulus of steel", 207e9, DimensionId::PRESSURE, STEEL))
}

fn fourth(d: &Dual, bore: &Dual) -> Dual {
    d.powi(4) - if bore.value == 0.0 { Dual::constant(0.0, d.partials.len()) } else { bore.powi(4) }
}

/// The bar's own rate from its shape, one end held.
pub(super) fn u_bar(calc: &mut Calc<'_>, _: Place) -> Got {
    let part = part(calc)?;
    let figs = all(calc, part, ["bar-diameter", "bar-arm", "bar-length", "bar-arm-length"])?;
    let bore = match bore(calc, part, &figs[0])? {
        Some(bore) => bore,
        None => solid(calc),
    };
    let (g, e) = (shear(calc, part), elastic(calc, part));
    let inputs = [
        ("d", &figs[0]),
        ("b", &bore),
        ("a", &figs[1]),
        ("l", &figs[2]),
        ("c", &figs[3]),
        ("g", &g),
        ("e", &e),
    ];
    calc.derive_as(&U_BAR, Place::CAR, &inputs, Some(Status::Inferred), |at| {
        let section = fourth(&at[0], &at[1]) * PI;
        let twist = at[2].powi(2) * &at[3] / (&at[5] * (&section / 32.0));
        let bend = 2.0 * at[4].powi(3) / (3.0 * &at[6] * (&section / 64.0));
        1.0 / (twist + bend)
    })
}

pub(super) fn handbook(calc: &mut Calc<'_>, _: Place) -> Got {
    let part = part(calc)?;
    let figs = all(calc, part, ["bar-diameter", "bar-arm", "bar-length", "bar-arm-length"])?;
    if wall(calc, part, &figs[0])?.is_some() {
        return Err(Missing::one("a solid bar: the short form knows no tube"));
    }
    let inputs = [("d", &figs[0]), ("a", &figs[1]), ("l", &figs[2]), ("c", &figs[3])];
    calc.derive_as(&HANDBOOK, Place::CAR, &inputs, Some(Status::Inferred), |at| {
        let inch: Vec<Dual> = at.iter().map(|one| one / 0.0254).collect();
        500_000.0 * inch[0].powi(4) / (0.4244 * inch[1].powi(2) * &inch[2] + 0.2264 * inch[3].powi(3))
            * 175.126_835_246_476_36
    })
}

pub(super) fn torsion(calc: &mut Calc<'_>, _: Place) -> Got {
    let part = part(calc)?;
    let figs = all(calc, part, ["bar-diameter", "bar-length"])?;
    let bore = match bore(calc, part, &figs[0])? {
        Some(bore) => bore,
        None => solid(calc),
    };
    let g = shear(calc, part);
    let inputs = [("d", &figs[0]), ("b", &bore), ("l", &figs[1]), ("g", &g)];
    calc.derive_as(&TORSION, Place::CAR, &inputs, Some(Status::Inferred), |at| {
        fourth(&at[0], &at[1]) * (PI / 32.0) * &at[3] / &at[2]
    })
}

pub(super) fn coil(calc: &mut Calc<'_>, _: Place) -> Got {
    let part = part(calc)?;
    let figs = all(calc, part, ["wire-diameter", "coil-diameter", "active-coils"])?;
    let g = shear(calc, part);
    let inputs = [("d", &figs[0]), ("m", &figs[1]), ("n", &figs[2]), ("g", &g)];
    calc.derive_as(&COIL, Place::CAR, &inputs, Some(Status::Inferred), |at| {
        &at[3] * at[0].powi(4) / (8.0 * at[1].powi(3) * &at[2])
    })
}

pub(super) fn against(calc: &mut Calc<'_>, _: Place) -> Got {
    let this = part(calc)?;
    let other = calc.against.ok_or_else(|| Missing::one("another bar, such as `--against bar-2`"))?;
    let d = all(calc, this, ["bar-diameter"])?.remove(0);
    let e = all(calc, other, ["bar-diameter"])?.remove(0);
    let (w, v) = (wall(calc, this, &d)?, wall(calc, other, &e)?);
    if w.is_none() && v.is_none() {
        return calc
            .derive(&SOLID_RATIO, Place::CAR, &[("d", &d), ("e", &e)], |at| (&at[0] / &at[1]).powi(4));
    }
    // A solid bar is a tube whose wall is half its diameter.
    let full = |calc: &mut Calc<'_>, wall: Option<Fig>, fig: &Fig| match wall {
        Some(wall) => Ok(wall),
        None => calc.derive(&SOLID_WALL, Place::CAR, &[("d", fig)], |at| &at[0] / 2.0),
    };
    let w = full(calc, w, &d)?;
    let v = full(calc, v, &e)?;
    let inputs = [("d", &d), ("w", &w), ("e", &e), ("v", &v)];
    calc.derive(&TUBE_RATIO, Place::CAR, &inputs, |at| {
        fourth(&at[0], &(&at[0] - 2.0 * &at[1])) / fourth(&at[2], &(&at[2] - 2.0 * &at[3]))
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

fn tube(calc: &mut Calc<'_>) -> Got<[Fig; 2]> {
    let part = part(calc)?;
    let d = all(calc, part, ["bar-diameter"])?.remove(0);
    match wall(calc, part, &d)? {
        Some(wall) => Ok([d, wall]),
        None => Err(Missing::one("a bar-wall: the bar is solid as far as the book knows")),
    }
}

pub(super) fn mass_ratio(calc: &mut Calc<'_>, _: Place) -> Got {
    let [d, w] = tube(calc)?;
    calc.derive(&MASS_RATIO, Place::CAR, &[("d", &d), ("w", &w)], |at| {
        1.0 - ((&at[0] - 2.0 * &at[1]) / &at[0]).powi(2)
    })
}

pub(super) fn equal_solid(calc: &mut Calc<'_>, _: Place) -> Got {
    let [d, w] = tube(calc)?;
    calc.derive(&EQUAL_SOLID, Place::CAR, &[("d", &d), ("w", &w)], |at| {
        fourth(&at[0], &(&at[0] - 2.0 * &at[1])).powf(0.25)
    })
}
