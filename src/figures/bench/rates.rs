//! The rate book: everything that was benched, softest to stiffest, and what is nearest to a wanted rate.
//!
//! For a report's page. Must not know how it is shown.

use super::formulas::ARM_WANTED;
use super::rows::{Benched, holes};
use super::{bench_only, on_bench};
use crate::book::model::PartId;
use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing};
use crate::figures::uncertainty::repeats;
use crate::statistics::student;
use crate::units::DimensionId;

/// One line of the rate book.
#[derive(Debug, Clone)]
pub struct Rate {
    /// The part.
    pub part: PartId,
    /// The hole or blade position, where it has several.
    pub hole: Option<f64>,
    /// The mean rate, one end held for a bar; its chain is in the [`Calc`].
    pub rate: Fig,
    /// How many repeats.
    pub repeats: usize,
    /// Sample standard deviation, N/m; `None` for one reading.
    pub s: Option<f64>,
    /// 95 % half-width of the mean, N/m; `None` for one reading.
    pub half_width: Option<f64>,
    /// The tag, N/m, where there is one.
    pub tag: Option<f64>,
}

/// Everything benched of a quantity (`spring-rate`, `bar-rate`) by the calc's moment, softest first.
#[must_use]
pub fn rates(calc: &mut Calc<'_>, quantity: &str) -> Vec<Rate> {
    told(calc, quantity).0
}

/// The same, and of which parts a rate was benched that nobody can tell, with what it lacks.
pub fn told(calc: &mut Calc<'_>, quantity: &str) -> (Vec<Rate>, Vec<(PartId, Missing)>) {
    let Ok(id) = calc.quantity(quantity) else { return (Vec::new(), Vec::new()) };
    let (mut list, mut lacks) = (Vec::new(), Vec::new());
    for part in (0..calc.book.parts.len()).map(PartId::from) {
        let all = holes(calc, part, id);
        let wanted: Vec<Option<f64>> =
            if all.is_empty() { vec![None] } else { all.into_iter().map(Some).collect() };
        for hole in wanted {
            match on_bench(calc, part, quantity, hole) {
                Ok(Some(found)) => {
                    let tag = calc.tag(part, id, Place::CAR).ok().map(|tag| tag.value);
                    list.push(one(part, hole, &found, tag));
                }
                Ok(None) => {}
                Err(missing) => lacks.push((part, missing)),
            }
        }
    }
    list.sort_by(|a, b| a.rate.value.total_cmp(&b.rate.value).then(a.part.cmp(&b.part)));
    (list, lacks)
}

fn one(part: PartId, hole: Option<f64>, found: &Benched, tag: Option<f64>) -> Rate {
    let values: Vec<f64> = found.singles.iter().map(|fig| fig.value).collect();
    let spread = repeats(&values);
    let t = student::quantile(0.95, values.len() as f64 - 1.0);
    Rate {
        part,
        hole,
        rate: found.mean.clone(),
        repeats: values.len(),
        s: spread.and_then(|spread| spread.s),
        half_width: spread.and_then(|spread| spread.u).zip(t).map(|(u, t)| u * t),
        tag,
    }
}

/// What comes nearest to a wanted rate (N/m), as an index into the rate book, and how far off it is as a share.
#[must_use]
pub fn nearest(rates: &[Rate], wanted: f64) -> Option<(usize, f64)> {
    let off = |rate: &Rate| rate.rate.value / wanted - 1.0;
    (wanted > 0.0)
        .then(|| rates.iter().enumerate().min_by(|a, b| off(a.1).abs().total_cmp(&off(b.1).abs())))
        .flatten()
        .map(|(at, rate)| (at, off(rate)))
}

/// What spans a wanted range best: the nearest to its softest and to its stiffest end.
#[must_use]
pub fn span(rates: &[Rate], softest: f64, stiffest: f64) -> Option<[(usize, f64); 2]> {
    Some([nearest(rates, softest)?, nearest(rates, stiffest)?])
}

/// The arm that would give a bar a wanted rate (N/m), from its softest benched hole and that hole's arm.
///
/// # Errors
/// When the bar or its arm was not benched.
pub fn arm_for(calc: &mut Calc<'_>, part: PartId, wanted: f64) -> Got {
    let id = calc.quantity("bar-rate")?;
    if wanted <= 0.0 || !wanted.is_finite() {
        return Err(Missing::one("a wanted rate above nothing"));
    }
    let hole = holes(calc, part, id).first().copied();
    let rate = bench_only(calc, part, "bar-rate", hole)?.mean;
    let arm = bench_only(calc, part, "bar-arm", hole)?.mean;
    let wanted = calc.constant("wanted rate", wanted, DimensionId::STIFFNESS, "asked for");
    calc.derive_of(
        &ARM_WANTED,
        Place::CAR,
        [("a", &arm), ("k", &rate), ("wanted", &wanted)],
        |[a, k, wanted]| a * (k / wanted).sqrt(),
    )
}
