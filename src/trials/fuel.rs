//! Fuel that went with what was tried: as much in every run of one setting, and clearly more or less in every run of another.
//!
//! What is filled is no setting, and burns off in a run; but a car that ran light with one setting and full with the other was not tried.
//! Must not know numbers of laps.

use crate::book::place::Place;
use crate::history::Facts;
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::vocabulary::QuantityId;

/// A load is clearly another from this share of the greater on. Of our own choice.
const CLEARLY: f64 = 0.1;

/// The quantity, where it went with the settings of the runs. `runs` are in order, each with its setting and the rank of the run before.
#[must_use]
pub fn went_with(facts: Facts<'_>, runs: &[(&Session, usize, Rank)]) -> Option<QuantityId> {
    let fuel = facts.book.vocabulary.find("fuel")?;
    let mut loads: Vec<Option<(f64, f64)>> = Vec::new();
    for (run, level, before) in runs {
        let load = begun_with(facts, fuel, run, *before)?;
        if loads.len() <= *level {
            loads.resize(*level + 1, None);
        }
        let range = loads.get_mut(*level)?;
        let (least, most) = range.unwrap_or((load, load));
        *range = Some((least.min(load), most.max(load)));
    }
    let mut ranges: Vec<(f64, f64)> = loads.into_iter().flatten().collect();
    ranges.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut pairs = ranges.array_windows::<2>();
    let apart = ranges.len() > 1 && pairs.all(|[less, more]| more.0 - less.1 > CLEARLY * more.0);
    apart.then_some(fuel)
}

/// What a run began with, as its line says, or the last line before it since the run before.
fn begun_with(facts: Facts<'_>, fuel: QuantityId, run: &Session, before: Rank) -> Option<f64> {
    let extra = facts.book.entries.get(run.entry).and_then(|entry| facts.book.extra(entry));
    let mut said = extra.into_iter().flat_map(|extra| &extra.conditions);
    let said = said.find(|one| facts.files.text(one.key).eq_ignore_ascii_case("fuel"));
    if let Some((load, _)) = said.and_then(|one| one.value) {
        return Some(load);
    }
    let standing = facts.on(run.car, run.rank);
    let asked = standing.slot(fuel, Place::CAR)?.held.asked?;
    asked.rank(&facts.history.order).filter(|rank| *rank > before)?;
    standing.number(fuel, Place::CAR)
}
