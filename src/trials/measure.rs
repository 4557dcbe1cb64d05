//! What is compared: the best lap, the median of the flying laps, and what was read in every run.
//!
//! Must not know trials.

use super::standings::RankedLine;
use crate::book::entry::{By, Entry, EntryId, Item, Verb};
use crate::history::Facts;
use crate::history::sessions::{self, Session};
use crate::units::UnitId;
use crate::vocabulary::QuantityId;
use std::collections::BTreeMap;

/// A thing that each run has a number of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measure {
    /// The best lap, seconds.
    BestLap,
    /// The median of the laps that count, seconds.
    MedianLap,
    /// The mean of what was read of this at its places, in the unit typed.
    Reading(QuantityId),
}

impl Measure {
    /// Whether it is a lap time: less is quicker.
    #[must_use]
    pub const fn is_lap(self) -> bool {
        matches!(self, Self::BestLap | Self::MedianLap)
    }
}

/// The values of one measure, by run; `None` where a run has none.
#[derive(Debug, Clone)]
pub struct Values {
    /// What was measured.
    pub measure: Measure,
    /// Of each run.
    pub of_run: Vec<Option<f64>>,
    /// The unit of a reading.
    pub unit: Option<UnitId>,
    /// Decimals that a reading was typed with; `None` of lap times.
    pub decimals: Option<u8>,
}

/// Fewer laps have no median.
const LEAST: usize = 3;

/// Everything that may be compared of the runs. `lines` are the car's there.
#[must_use]
pub fn values(facts: Facts<'_>, runs: &[&Session], lines: &[RankedLine]) -> Vec<Values> {
    let best = runs.iter().map(|run| run.best.filter(|best| best.is_finite() && *best > 0.0));
    let median = runs.iter().map(|run| Some(sessions::median(facts.book, run)?.0));
    let mut all = vec![
        Values { measure: Measure::BestLap, of_run: best.collect(), unit: None, decimals: None },
        Values { measure: Measure::MedianLap, of_run: median.collect(), unit: None, decimals: None },
    ];
    all.extend(readings(facts, runs, lines));
    all.retain(|values| values.of_run.iter().flatten().count() >= LEAST);
    all
}

/// A reading of a run, as its line typed it, and who or what read it: another gauge is no effect.
type Typed = (Option<UnitId>, Vec<(crate::book::place::Place, f64)>, u8, By);

/// What a line read under a run, the run first; `None` of a line that counts for none.
#[must_use]
pub fn read_under(facts: Facts<'_>, line: EntryId) -> Option<(EntryId, QuantityId, &Entry)> {
    let entry = facts.book.entries.get(line)?;
    let reads = entry.verb == Verb::Read && !entry.void && !entry.broken && !entry.withheld;
    let quantity = entry.quantity.filter(|_| reads)?;
    Some((facts.history.during(facts.book, line)?, quantity, entry))
}

/// What was read under the runs: of each quantity, where each run that has it read the same places in the same unit.
fn readings(facts: Facts<'_>, runs: &[&Session], lines: &[RankedLine]) -> Vec<Values> {
    let mut found: BTreeMap<QuantityId, Vec<Option<Typed>>> = BTreeMap::new();
    for (_, line) in lines {
        let Some((during, quantity, entry)) = read_under(facts, *line) else { continue };
        let Some(run) = runs.iter().position(|run| during == run.entry) else { continue };
        let items: Vec<&Item> = facts.book.items_of(entry).iter().filter(|item| item.has_value()).collect();
        let Some(first) = items.first().filter(|first| items.iter().all(|item| item.unit == first.unit))
        else {
            continue;
        };
        let unit = |si: f64| first.unit.map_or(si, |unit| unit.get().from_si(si));
        let values = items.iter().map(|item| (item.place, unit(item.si))).collect();
        let of_runs = found.entry(quantity).or_insert_with(|| vec![None; runs.len()]);
        if let Some(slot) = of_runs.get_mut(run) {
            // The last reading of a run counts.
            *slot = Some((first.unit, values, first.decimals, entry.by));
        }
    }
    let mut list = Vec::new();
    for (quantity, of_runs) in found {
        let Some(first) = of_runs.iter().flatten().next() else { continue };
        let places = |typed: &Typed| typed.1.iter().map(|(place, _)| *place).collect::<Vec<_>>();
        let like =
            |typed: &&Typed| typed.0 == first.0 && typed.3 == first.3 && places(typed) == places(first);
        let mean =
            |typed: &Typed| typed.1.iter().map(|(_, value)| value).sum::<f64>() / typed.1.len().max(1) as f64;
        list.push(Values {
            measure: Measure::Reading(quantity),
            of_run: of_runs.iter().map(|typed| typed.as_ref().filter(like).map(mean)).collect(),
            unit: first.0,
            decimals: of_runs.iter().flatten().filter(like).map(|typed| typed.2).max(),
        });
    }
    list
}
