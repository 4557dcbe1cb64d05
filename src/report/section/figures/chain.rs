//! A chain as lines of a page: what was typed, by which formula, what came of it. Said once; then a link to where it stands.
//!
//! Must not know which figure it is.

use crate::figures::trace::Step;
use crate::units::number;
use crate::words;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// One step of a chain.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ChainStep {
    /// How far in, at most 4.
    pub depth: usize,
    /// Its id on the page, where it has inputs of its own.
    pub id: String,
    /// The place it is of, at the top of a chain.
    pub label: String,
    /// The name the expression above uses.
    pub input: String,
    /// Value and unit.
    pub shown: String,
    /// Standard uncertainty in that unit.
    pub u: String,
    /// What it is.
    pub name: String,
    /// measured, stated, tag, derived, inferred, assumed.
    pub status: &'static str,
    /// The expression.
    pub by: String,
    /// Where it is published; empty when the chain said so before.
    pub source: String,
    /// What a reader must know.
    pub convention: String,
    /// Where it was typed.
    pub src: String,
    /// What its uncertainty is from.
    pub sure: String,
    /// Source of a default.
    pub origin: String,
    /// What a reader must be told.
    pub caution: String,
    /// The line that made it stale.
    pub stale: String,
    /// The id where it was worked out before.
    pub above: String,
}

/// Writes chains of one section of a page, each derived step once.
#[derive(Debug)]
pub(in crate::report) struct Chains {
    prefix: String,
    seen: BTreeMap<(String, String, u64), String>,
}

impl Chains {
    /// With what the ids begin with.
    pub fn new(prefix: String) -> Self {
        Self { prefix, seen: BTreeMap::new() }
    }

    /// The chain of one figure, at several places.
    pub fn chain<'s>(&mut self, sites: impl IntoIterator<Item = (String, &'s Step)>) -> Vec<ChainStep> {
        let mut list = Vec::new();
        let mut told = BTreeSet::new();
        for (label, one) in sites {
            self.step(&mut list, &mut told, label, "", one, 0);
        }
        list
    }

    fn step(
        &mut self,
        list: &mut Vec<ChainStep>,
        told: &mut BTreeSet<String>,
        label: String,
        input: &str,
        step: &Step,
        depth: usize,
    ) {
        let key = (step.name.clone(), step.place.clone(), step.value_si.to_bits());
        let mut id = String::new();
        let mut above = String::new();
        if !step.inputs.is_empty() || step.above {
            let before = self.seen.get(&key);
            match before.filter(|_| depth > 0) {
                Some(before) => above.clone_from(before),
                None if before.is_none() => {
                    id = format!("{}-{}", self.prefix, self.seen.len() + 1);
                    self.seen.insert(key, id.clone());
                }
                None => {}
            }
        }
        let formula = step.formula.as_ref().filter(|_| above.is_empty());
        let first = formula.is_some_and(|formula| told.insert(formula.id.clone()));
        let whole = |text: &str| if first { text.to_owned() } else { String::new() };
        let named =
            if step.formula.is_some() { format!("{} {}", step.name, step.place) } else { step.name.clone() };
        list.push(ChainStep {
            depth: depth.min(4),
            id,
            label,
            input: input.to_owned(),
            shown: step.shown.clone(),
            u: step.u.map_or_else(String::new, |u| number::format(u, two_figures(u))),
            name: named.trim_end().to_owned(),
            status: step.status.word(),
            by: formula.map_or_else(String::new, |formula| formula.expression.clone()),
            source: formula.map_or_else(String::new, |formula| whole(&formula.source)),
            convention: formula.map_or_else(String::new, |formula| whole(&formula.convention)),
            src: step.typed.as_ref().map_or_else(String::new, |line| words::place(&line.path, line.line)),
            sure: sure(step),
            origin: step.source.clone(),
            caution: step.caution.clone(),
            stale: step
                .stale
                .as_ref()
                .filter(|_| step.inputs.is_empty())
                .map_or_else(String::new, |line| words::place(&line.path, line.line)),
            above: above.clone(),
        });
        if above.is_empty() {
            for one in &step.inputs {
                self.step(list, told, String::new(), &one.input, &one.step, depth + 1);
            }
        }
    }
}

/// Decimals that show two figures of an uncertainty.
fn two_figures(u: f64) -> u8 {
    (0..9).find(|decimals| u * libm::pow(10.0, f64::from(*decimals)) >= 9.5).unwrap_or(9)
}

/// Digits of a step as a row shows them: a figure of a reading as typed, else to the first digit of its uncertainty, at most
/// four figures where it has none. The unit apart.
pub(in crate::report) fn digits(step: &Step) -> (String, String, String) {
    let plain = step.shown.strip_suffix(step.unit.as_str()).map_or(step.shown.as_str(), str::trim_end);
    // What was typed in another unit, a toe in mm, has no digits of its own in this one.
    let as_typed = step.typed.as_ref().is_none_or(|line| line.text.contains(plain.trim_start_matches('-')));
    if step.formula.is_none() && as_typed {
        return (plain.to_owned(), step.unit.clone(), String::new());
    }
    let most = plain.split_once('.').map_or(0, |(_, after)| after.len() as u8);
    let of_u = step
        .u
        .filter(|u| *u > 0.0)
        .map(|u| (0..9).find(|decimals| u * libm::pow(10.0, f64::from(*decimals)) >= 0.95).unwrap_or(9));
    let large = libm::fabs(step.value);
    let four = if large >= 1000.0 {
        0
    } else if large >= 100.0 {
        1
    } else if large >= 10.0 {
        2
    } else {
        3
    };
    let decimals = of_u.unwrap_or(four).min(most);
    let u = of_u.filter(|_| step.formula.is_some()).and(step.u);
    // Rounded to the value's own digits it could be nothing, and say that the value is exact.
    let u = u.map_or_else(String::new, |u| number::format(u, of_u.unwrap_or(decimals).max(decimals)));
    (number::format(step.value, decimals), step.unit.clone(), u)
}

/// What a step is unsure by; of a reading that was put right, with the lines that say by how much.
fn sure(step: &Step) -> String {
    let lines =
        step.corrected.iter().flat_map(|one| &one.lines).map(|line| words::place(&line.path, line.line));
    let lines: Vec<String> = lines.collect();
    if lines.is_empty() { step.sure.clone() } else { format!("{} ({})", step.sure, lines.join(", ")) }
}
