//! The bench: what springs, bars and blades really measure, against tag, shape and one another.
//!
//! Rates come from `points` rows (travel and load) or typed values; the other end of a bar is held unless the line says
//! `with in-roll`. Must not know cars beyond which part is asked about.

pub mod finder;
mod formulas;
pub mod geometry;
pub mod rates;
mod rows;

use super::calc::{Calc, Fig, Got, Missing};
use super::code::Code;
use crate::book::entry::EntryId;
use crate::book::model::PartId;
use crate::book::place::Place;
use crate::figures::dual::Dual;
use crate::statistics::student;
use crate::units::DimensionId;
use crate::vocabulary::QuantityId;
use formulas::{HALF_WIDTH, ONE_END, SCATTER, TAG};
use rows::{Benched, benched, deviation, has_rows, holes, is_lost, named, voided};

/// What the program works out.
pub const FIGURES: &[Code] = &[
    ("spring-rate", spring_rate),
    ("bar-rate", bar_rate),
    ("rate-scatter", scatter),
    ("rate-half-width", half_width),
    ("tag-error", tag_error),
    ("other-hole-rate", |calc, _| other_hole(calc, "bar-rate")),
    ("other-hole-arm", |calc, _| other_hole(calc, "bar-arm")),
    ("hole-rate", |calc, _| this_hole(calc, "bar-rate")),
    ("hole-arm", |calc, _| this_hole(calc, "bar-arm")),
];

/// The part asked about.
fn part(calc: &Calc<'_>) -> Got<PartId> {
    calc.part.ok_or_else(|| Missing::one("a part: name a spring, bar or blade in place of the car"))
}

/// The hole asked about (`--with "bar-hole 3"`).
fn hole(calc: &Calc<'_>) -> Option<f64> {
    let id = calc.quantity("bar-hole").ok()?;
    calc.what_if.iter().rfind(|one| one.quantity == id && one.place == Place::CAR).map(|one| one.value)
}

/// What the bench says of a part's quantity at a hole, a bar's always with one end held.
fn on_bench(calc: &mut Calc<'_>, part: PartId, name: &str, hole: Option<f64>) -> Got<Option<Benched>> {
    let id = calc.quantity(name)?;
    let Some(mut found) = benched(calc, part, id, hole)? else { return Ok(None) };
    let typed = found.singles.iter().find_map(|fig| first_entry(calc, fig));
    let line = typed.map(|entry| calc.book.entries[entry]);
    let line = line.map(|entry| entry.parent.map_or(entry, |parent| calc.book.entries[parent]));
    if name == "bar-rate" && line.is_some_and(|line| calc.says(&line, "in-roll")) {
        found.mean = calc.derive_of(&ONE_END, Place::CAR, [("k", &found.mean)], |[k]| k / 2.0)?;
    }
    Ok(Some(found))
}

/// A line under a figure.
fn first_entry(calc: &Calc<'_>, fig: &Fig) -> Option<EntryId> {
    let node = calc.nodes.get(fig.node)?;
    node.entry.or_else(|| node.inputs.first().and_then(|(_, input)| calc.nodes.get(*input)?.entry))
}

/// What the part asked about says of a quantity: the bench, else its tag; of an arm at the hole asked about.
pub(super) fn of_the_part(calc: &mut Calc<'_>, name: &str) -> Got {
    let (part, hole) = (part(calc)?, hole(calc));
    of_part(calc, part, name, hole.filter(|_| name == "bar-arm"))
}

/// A part's quantity: the bench, else, of a part that never was on it, its tag.
pub(super) fn of_part(calc: &mut Calc<'_>, part: PartId, name: &str, hole: Option<f64>) -> Got {
    if let Some(found) = on_bench(calc, part, name, hole)? {
        return Ok(found.mean);
    }
    let id = calc.quantity(name)?;
    calc.tag_unless_benched(part, id, Place::CAR)
}

/// What rows on the bench say of the part that gives a quantity at a place of the car; `None` where there are none. A bar's rate is that at the
/// hole it is in.
fn by_rows(calc: &mut Calc<'_>, id: QuantityId, place: Place) -> Got<Option<Fig>> {
    let Ok(Some(part)) = calc.giver(id, place) else { return Ok(None) };
    if !has_rows(calc, part, id) {
        return Ok(None);
    }
    let name = calc.book.vocabulary.get(id).name.clone();
    let bar = calc.quantity("bar-hole")?;
    let hole = if calc.book.vocabulary.get(id).feels(bar) {
        let stands = calc.car.and_then(|car| calc.on(car, calc.rank_of(bar)).number(bar, place));
        calc.instead(bar, place).map(|fig| fig.value).or(stands)
    } else {
        None
    };
    Ok(on_bench(calc, part, &name, hole)?.map(|found| found.mean))
}

impl Calc<'_> {
    /// What rows on the bench say of the part that gives a quantity at a place of the car; `None` where there are none.
    pub fn benched_by_rows(&mut self, id: QuantityId, place: Place) -> Option<Got> {
        by_rows(self, id, place).transpose()
    }
}

fn spring_rate(calc: &mut Calc<'_>, _: Place) -> Got {
    let part = part(calc)?;
    bench_only(calc, part, "spring-rate", None).map(|found| found.mean)
}

fn bench_only(calc: &mut Calc<'_>, part: PartId, name: &str, hole: Option<f64>) -> Got<Benched> {
    let id = calc.quantity(name)?;
    let at = hole.map_or_else(String::new, |hole| format!(" at hole {hole}"));
    let void = if voided(calc, part, id).is_some() { " that is not void" } else { "" };
    let words = format!("a bench reading of {}{at}{void}", named(calc, part, id));
    on_bench(calc, part, name, hole)?.ok_or_else(|| Missing::one(words))
}

fn bar_rate(calc: &mut Calc<'_>, _: Place) -> Got {
    let (part, hole) = (part(calc)?, hole(calc));
    rate_of_bar(calc, part, hole)
}

/// A bar's rate with one end held: the bench, else its shape.
fn rate_of_bar(calc: &mut Calc<'_>, part: PartId, hole: Option<f64>) -> Got {
    match bench_only(calc, part, "bar-rate", hole) {
        Ok(found) => Ok(found.mean),
        Err(bench) => {
            let id = calc.quantity("bar-rate")?;
            if !holes(calc, part, id).is_empty() || is_lost(calc, part, id) {
                return Err(bench);
            }
            let whole = calc.part.replace(part);
            let shape = calc.named("theoretical-bar-rate", Place::CAR);
            calc.part = whole;
            shape.map_err(|shape| {
                let needs =
                    bench.needs.iter().map(|need| format!("{need}, or for its shape")).chain(shape.needs);
                Missing { needs: needs.collect() }
            })
        }
    }
}

/// A fitted bar's rate: the bench, else its tag, else its shape.
pub(super) fn fitted_bar(calc: &mut Calc<'_>, part: PartId, hole: Option<f64>) -> Got {
    let id = calc.quantity("bar-rate")?;
    if holes(calc, part, id).is_empty()
        && on_bench(calc, part, "bar-rate", hole)?.is_none()
        && let Ok(tag) = calc.tag_unless_benched(part, id, Place::CAR)
    {
        return Ok(tag);
    }
    rate_of_bar(calc, part, hole)
}

/// The rate of the part asked about, whichever it was benched as, and its quantity; of one that was never benched the one that its kind gives,
/// or its tag says, is missing.
fn rate_benched(calc: &mut Calc<'_>) -> Got<(PartId, &'static str, Benched)> {
    let (part, hole) = (part(calc)?, hole(calc));
    for (name, hole) in [("spring-rate", None), ("bar-rate", hole)] {
        if let Some(found) = on_bench(calc, part, name, hole)? {
            return Ok((part, name, found));
        }
    }
    let bar = calc.quantity("bar-rate")?;
    let piece = &calc.book.parts[part];
    let spec = piece.spec.map(|spec| &calc.book.specs[spec]);
    let tags = piece.tags.iter().chain(spec.into_iter().flat_map(|spec| &spec.tags));
    let kind = piece.kind.map(|kind| &calc.book.kinds[kind]);
    let is_bar =
        kind.is_some_and(|kind| kind.gives.contains(&bar)) || tags.into_iter().any(|(of, _)| *of == bar);
    let (name, hole) = if is_bar { ("bar-rate", hole) } else { ("spring-rate", None) };
    bench_only(calc, part, name, hole).map(|found| (part, name, found))
}

/// The repeats of a spring or a bar.
fn repeats_of(calc: &mut Calc<'_>) -> Got<Benched> {
    let (part, _, found) = rate_benched(calc)?;
    if found.singles.len() < 2 {
        let name = &calc.book.parts[part].named.typed;
        return Err(Missing::one(format!("a second bench reading of {name}: one alone has no scatter")));
    }
    Ok(found)
}

fn scatter(calc: &mut Calc<'_>, _: Place) -> Got {
    let found = repeats_of(calc)?;
    let names: Vec<String> = (1..=found.singles.len()).map(|n| format!("k{n}")).collect();
    let inputs: Vec<(&str, &Fig)> = names.iter().map(String::as_str).zip(&found.singles).collect();
    calc.derive(&SCATTER, Place::CAR, &inputs, deviation)
}

fn half_width(calc: &mut Calc<'_>, _: Place) -> Got {
    let found = repeats_of(calc)?;
    let n = found.singles.len();
    let t = student::quantile(0.95, n as f64 - 1.0).ok_or_else(|| Missing::one("more repeats"))?;
    let t = calc.constant(
        "Student's t, 95 %, two-sided",
        t,
        DimensionId::RATIO,
        "Student's distribution, n - 1 degrees of freedom (JCGM 100:2008, table G.2)",
    );
    let names: Vec<String> = (1..=n).map(|n| format!("k{n}")).collect();
    let mut inputs: Vec<(&str, &Fig)> = names.iter().map(String::as_str).zip(&found.singles).collect();
    inputs.push(("t", &t));
    calc.derive(&HALF_WIDTH, Place::CAR, &inputs, |at| match at {
        [rates @ .., t] => t * &deviation(rates) / (n as f64).sqrt(),
        [] => Dual::constant(f64::NAN, 0),
    })
}

fn tag_error(calc: &mut Calc<'_>, _: Place) -> Got {
    let (part, name, found) = rate_benched(calc)?;
    let id = calc.quantity(name)?;
    let tag = calc
        .tag(part, id, Place::CAR)
        .map_err(|_| Missing::one(format!("a tag of {}", named(calc, part, id))))?;
    calc.derive_of(&TAG, Place::CAR, [("k", &found.mean), ("tag", &tag)], |[k, tag]| k / tag - 1.0)
}

/// The hole asked about, or that one is wanted.
fn asked_hole(calc: &Calc<'_>) -> Got<f64> {
    hole(calc).ok_or_else(|| Missing::one("a hole, such as `--with \"bar-hole 3\"`"))
}

/// What the bench says at the hole asked about.
fn this_hole(calc: &mut Calc<'_>, name: &str) -> Got {
    let (part, hole) = (part(calc)?, asked_hole(calc)?);
    bench_only(calc, part, name, Some(hole)).map(|found| found.mean)
}

/// What the bench says at the first other hole.
fn other_hole(calc: &mut Calc<'_>, name: &str) -> Got {
    let (part, wanted) = (part(calc)?, asked_hole(calc)?);
    let id = calc.quantity("bar-rate")?;
    let other = holes(calc, part, id).into_iter().find(|hole| hole.to_bits() != wanted.to_bits());
    let Some(other) = other else {
        return Err(Missing::one(format!("a bench reading of {} at another hole", named(calc, part, id))));
    };
    bench_only(calc, part, name, Some(other)).map(|found| found.mean)
}
