//! Whether the holes of a blade span the range that is wanted of it, in words: which hole gives each end within its scatter, between which it lies,
//! or what comes nearest.
//!
//! Must not know what is wanted, nor how a rate is worked out.

use super::bench_drawn::BenchRate;
use super::figures::wanted::WantedSpan;
use crate::book::model::PartId;
use crate::figures::bench::rates::Rate;
use crate::figures::trace::usual;
use crate::report::words;
use crate::units::{DimensionId, number};

/// A rate that a part can have, in the unit of its line.
struct Given {
    hole: String,
    rate: f64,
    half: f64,
}

impl Given {
    fn covers(&self, end: f64) -> bool {
        (self.rate - end).abs() <= self.half
    }

    /// "hole 5"; of a part without any, nothing.
    fn hole(&self) -> String {
        if self.hole.is_empty() { String::new() } else { format!("hole {}", self.hole) }
    }
}

/// Every part on the bench against a range, N/m, softest part first; of those that are lacking some other rate could not be read.
pub(super) fn spans(
    all: &[Rate],
    lines: &[(PartId, BenchRate)],
    lacking: &[PartId],
    (softest, stiffest): (f64, f64),
) -> Vec<WantedSpan> {
    let imperial = !lines.is_empty() && lines.iter().all(|(_, line)| line.unit != "N/mm");
    let unit = usual(DimensionId::STIFFNESS, imperial).get();
    let size = |si: f64| si / unit.factor;
    let mut parts: Vec<(PartId, &str, Vec<Given>)> = Vec::new();
    for (rate, (part, line)) in all.iter().zip(lines) {
        let given = Given {
            hole: line.hole.clone(),
            rate: size(rate.rate.value),
            half: rate.half_width.filter(|half| half.is_finite()).map_or(0.0, size),
        };
        match parts.iter_mut().find(|(same, ..)| same == part) {
            Some((.., rates)) => rates.push(given),
            None => parts.push((*part, &line.part, vec![given])),
        }
    }
    let ends = [size(softest), size(stiffest)];
    let told = parts.into_iter().map(|(id, part, rates)| {
        let span = span(part, &rates, ends);
        let lacks = if lacking.contains(&id) { "; another of its rates could not be read" } else { "" };
        WantedSpan { text: span.text + lacks, ..span }
    });
    told.collect()
}

fn span(part: &str, rates: &[Given], ends: [f64; 2]) -> WantedSpan {
    let told = ends.map(|end| reached(rates, end));
    let whole = told.iter().all(|(reached, _)| *reached);
    let lead = match told.each_ref().map(|(reached, _)| *reached) {
        [true, true] => "spans it",
        [true, false] => "reaches the softest, not the stiffest",
        [false, true] => "reaches the stiffest, not the softest",
        [false, false] => "does not span it",
    };
    let [(_, soft), (_, stiff)] = told;
    let both = if soft == stiff { soft } else { format!("{soft}; {stiff}") };
    WantedSpan { part: part.to_owned(), text: format!("{lead}: {both}"), whole }
}

/// Whether a rate is reached, and by which holes.
fn reached(rates: &[Given], end: f64) -> (bool, String) {
    let text = |rate: f64| words::amount(rate, 1);
    let wanted = text(end);
    let by_distance = |a: &&Given, b: &&Given| (a.rate - end).abs().total_cmp(&(b.rate - end).abs());
    let Some(nearest) = rates.iter().min_by(by_distance) else { return (false, String::new()) };
    let gives = |one: &Given| {
        let hole = one.hole();
        if hole.is_empty() {
            format!("its {}", text(one.rate))
        } else {
            format!("{hole} with {}", text(one.rate))
        }
    };
    if rates.iter().any(|one| one.covers(end)) {
        // The nearest of all may be one that was read more closely, and is not it.
        let closest = rates.iter().filter(|one| one.covers(end)).min_by(by_distance).unwrap_or(nearest);
        return (true, format!("{} is {wanted} within its scatter", gives(closest)));
    }
    let softer = rates.iter().filter(|one| one.rate < end).max_by(|a, b| a.rate.total_cmp(&b.rate));
    let stiffer = rates.iter().filter(|one| one.rate > end).min_by(|a, b| a.rate.total_cmp(&b.rate));
    if let (Some(softer), Some(stiffer)) = (softer, stiffer) {
        return (true, format!("{wanted} lies between {} and {}", gives(softer), gives(stiffer)));
    }
    let off = number::signed((nearest.rate / end - 1.0) * 100.0, 0);
    let nobody = if nearest.hole.is_empty() { "it does not give" } else { "no hole gives" };
    (false, format!("{nobody} {wanted}, nearest {} ({off} %)", gives(nearest)))
}
