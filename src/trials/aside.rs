//! Runs that say nothing of a change, and why.
//!
//! Must not know trials.

use super::course::way;
use super::factor::Factor;
use super::said::{flags, stops_a_run};
use super::standings::{RankedLine, changed_during};
use crate::book::entry::{Entry, EntryId, Verb};
use crate::history::Facts;
use crate::history::sessions::Session;
use crate::vocabulary::QuantityId;
use std::collections::BTreeSet;

/// Why a run is left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Aside {
    /// It has no lap time, or one that is none.
    NoLap,
    /// The reader may not read it.
    Hidden,
    /// It was stopped, as its line says in this word.
    Stopped(String),
    /// A part failed in it.
    Failed,
    /// It was of another length than the first that counts: another road.
    OtherWay,
    /// It has fewer laps than half of what the car usually ran there.
    Short {
        /// Its laps.
        laps: u32,
        /// The usual.
        usual: u32,
    },
    /// This was changed while it ran.
    ChangedDuring(QuantityId),
    /// A part was changed while it ran.
    PartsDuring,
    /// What this stood at is not known.
    Unknown(Factor),
    /// This differed, and was not what was tried.
    Otherwise(Factor),
    /// Its day has fewer than three runs that count.
    FewThatDay,
}

/// What by itself takes each run of an event out, whatever is tried. `lines` are the car's there.
#[must_use]
pub fn of_runs(facts: Facts<'_>, runs: &[&Session], lines: &[RankedLine]) -> Vec<Option<Aside>> {
    let usual = usual(runs);
    let told = |line: &Entry| matches!(line.verb, Verb::Failed | Verb::Hit) && !line.void;
    let broke = lines.iter().filter(|(_, line)| facts.book.entries.get(*line).is_some_and(told));
    let broke: BTreeSet<EntryId> =
        broke.filter_map(|(_, line)| facts.history.during(facts.book, *line)).collect();
    let mut all: Vec<Option<Aside>> = runs
        .iter()
        .map(|run| if broke.contains(&run.entry) { Some(Aside::Failed) } else { of_run(facts, run, usual) })
        .collect();
    for (run, quantity) in changed_during(facts, runs, lines) {
        if let Some(aside) = all.get_mut(run) {
            aside.get_or_insert(quantity.map_or(Aside::PartsDuring, Aside::ChangedDuring));
        }
    }
    let counts = |at: &usize| all.get(*at).is_some_and(Option::is_none);
    let first = (0..runs.len()).find(counts).and_then(|at| runs.get(at)).map(|run| way(facts, run));
    for (aside, run) in all.iter_mut().zip(runs) {
        if first.is_some_and(|first| way(facts, run) != first) {
            aside.get_or_insert(Aside::OtherWay);
        }
    }
    all
}

/// The middle of the laps of some runs, the lower of two.
fn usual(runs: &[&Session]) -> Option<u32> {
    let mut laps: Vec<u32> = runs.iter().filter_map(|run| run.laps).collect();
    laps.sort_unstable();
    laps.get(laps.len().checked_sub(1)? / 2).copied()
}

fn of_run(facts: Facts<'_>, run: &Session, usual: Option<u32>) -> Option<Aside> {
    if facts.book.entries.get(run.entry).is_none_or(|entry| entry.withheld) {
        return Some(Aside::Hidden);
    }
    if let Some(word) = flags(facts, run).into_iter().find(|word| stops_a_run(word)) {
        return Some(Aside::Stopped(word));
    }
    if !run.best.is_some_and(|best| best.is_finite() && best > 0.0) {
        return Some(Aside::NoLap);
    }
    let (laps, usual) = run.laps.zip(usual)?;
    (laps * 2 < usual).then_some(Aside::Short { laps, usual })
}
