//! One contrast tried at several events, taken together: each day keeps its own level and trend.
//!
//! On one circuit in seconds; on several in per cent of the lap, since a second of a long lap is not a second of a short one. Must not know
//! words.

use super::effect::{self, Effects};
use super::factor::Level;
use super::number;
use super::refusal::Refusal;
use super::row::Row;
use super::trial::{Trial, TrialRun};
use crate::history::Facts;
use crate::history::sessions::SessionId;
use crate::ids::Arena;
use std::collections::BTreeMap;

crate::ids::ids! {
    /// A trial of a car, in order.
    TrialId: u32,
}

/// A contrast tried more than once.
#[derive(Debug, Clone)]
pub struct Combined {
    /// The trials it is of, as numbers of the car's.
    pub trials: Vec<TrialId>,
    /// What they say together, of the second setting of the first trial against its first.
    pub effects: Effects,
    /// Whether the numbers are per cent of the lap, and not seconds.
    pub percent: bool,
    /// The runs that they are made of, in order.
    pub runs: Vec<CombinedRun>,
}

/// A run of a contrast that was tried more than once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CombinedRun {
    /// The run.
    pub session: SessionId,
    /// Its day, its place in the day's order and its setting, as the first trial counts them.
    pub row: Row,
    /// Its best lap, in seconds or in per cent of the mean of its trial.
    pub value: f64,
}

/// The contrasts of a car that were tried at several events and can be judged together.
#[must_use]
pub fn combined(facts: Facts<'_>, all: &[Trial]) -> Vec<Combined> {
    let all: Arena<TrialId, &Trial> = all.iter().collect::<Vec<_>>().into();
    let usable: Vec<TrialId> =
        all.iter_enumerated().filter(|(_, trial)| is_contrast(facts, trial)).map(|(id, _)| id).collect();
    let mut done: Vec<TrialId> = Vec::new();
    let mut found = Vec::new();
    for first in &usable {
        if done.contains(first) {
            continue;
        }
        // The same contrast, with whether its letters are the other way about.
        let alike: Vec<(TrialId, bool)> = usable
            .iter()
            .filter(|other| !done.contains(other))
            .filter_map(|other| Some((*other, turned(facts, all[*first], all[*other])?)))
            .collect();
        done.extend(alike.iter().map(|(id, _)| *id));
        if alike.len() > 1 {
            let trials: Vec<(&Trial, bool)> = alike.iter().map(|(id, turned)| (all[*id], *turned)).collect();
            let ids = alike.iter().map(|(id, _)| *id).collect();
            found.extend(together(facts, ids, &trials));
        }
    }
    found
}

/// Whether a trial has two settings and best laps, and a day that tells them apart beside its own level and trend, whatever its order.
fn is_contrast(facts: Facts<'_>, trial: &Trial) -> bool {
    let laps = trial.runs.iter().all(|run| facts.history.sessions.get(run.session).best.is_some());
    let known = match &trial.measured {
        Ok(_) | Err(Refusal::WentWithOrder | Refusal::WentWithDay) => true,
        Err(_) => false,
    };
    trial.levels.len() == 2 && laps && known && adds(trial)
}

/// Whether one of its days has three runs that count and both settings: fewer say nothing beside the day's level and trend.
fn adds(trial: &Trial) -> bool {
    trial.runs.iter().any(|one| {
        let of_day = || trial.runs.iter().filter(|run| run.day == one.day);
        of_day().count() > 2 && of_day().any(|run| run.level != one.level)
    })
}

/// Whether two trials are of one contrast: `Some(true)` where the letters are the other way about.
fn turned(facts: Facts<'_>, a: &Trial, b: &Trial) -> Option<bool> {
    if a.factor != b.factor {
        return None;
    }
    let ([first, second], [third, fourth]) = (a.levels.as_slice(), b.levels.as_slice()) else { return None };
    let (here, there) = (number::turned(facts, &a.levels), number::turned(facts, &b.levels));
    if here.is_empty() || !here.keys().eq(there.keys()) {
        return None;
    }
    let same = |one: &Level, other: &Level| {
        here.iter().all(|(place, at)| {
            there.get(place).is_some_and(|to| number::same_across(facts, (one, *at), (other, *to)))
        })
    };
    if same(first, third) && same(second, fourth) {
        Some(false)
    } else if same(first, fourth) && same(second, third) {
        Some(true)
    } else {
        None
    }
}

fn together(facts: Facts<'_>, ids: Vec<TrialId>, trials: &[(&Trial, bool)]) -> Option<Combined> {
    let circuit = |trial: &Trial| trial.event.and_then(|event| facts.book.events.get(event)?.circuit);
    let first = circuit(trials.first()?.0);
    let percent = first.is_none() || trials.iter().any(|(trial, _)| circuit(trial) != first);
    let mut blocks: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    let mut runs = Vec::new();
    for (number, (trial, turned)) in trials.iter().enumerate() {
        let best = |run: &TrialRun| facts.history.sessions.get(run.session).best;
        let own: Vec<f64> = trial.runs.iter().filter_map(best).collect();
        let mean = own.iter().sum::<f64>() / own.len().max(1) as f64;
        let scale = if percent { 100.0 / mean } else { 1.0 };
        for (run, lap) in trial.runs.iter().zip(own) {
            let level = if *turned { 1 - run.level } else { run.level };
            let next = blocks.len();
            let block = *blocks.entry((number, run.day)).or_insert(next);
            let row = Row { block, order: run.order, level };
            runs.push(CombinedRun { session: run.session, row, value: lap * scale });
        }
    }
    let rows: Vec<Row> = runs.iter().map(|run| run.row).collect();
    let values: Vec<f64> = runs.iter().map(|run| run.value).collect();
    let effects = effect::effects(&rows, &values, None, None).ok()?;
    Some(Combined { trials: ids, effects, percent, runs })
}
