//! How what a trial says came about: its formula in words, and each run that it is made of, measure by measure, with its line.
//!
//! Must not know rendering, nor how an effect is found.

use super::best::{BestRun, NotCompared};
use super::together::TogetherRun;
use super::{TrialFit, TrialSetting, build};
use crate::Compiled;
use crate::answer::{LedgerLine, NamedCar};
use crate::book::model::{CarId, EventId};
use serde::Serialize;

/// How the differences came about.
pub const BY_RUNS: &str = "least squares: the value of a run = the level of its day + the trend of its day x its place in the running order of the day + the \
                           change; each run is one value; the interval is Student's t at 0.95 times the error, shared out where there are more \
                           than two settings";

/// How the best known setup came about.
pub const BY_LAP: &str = "the quickest best lap of the runs that can be compared: one circuit, driver and weather, and no run that is left out; no \
                          level or trend of a day is taken off";

/// How a contrast that was tried at several events came about.
pub const BY_SEVERAL: &str = "least squares over all of its runs: the value of a run = the level of its day + the trend of its day x its place in the running \
                              order of the day + the change; on several circuits the value is per cent of the mean lap of its trial";

/// How what `back-to-back` tells came about.
#[derive(Debug, Clone, Serialize)]
pub struct TrialsTrace {
    /// `back-to-back`.
    pub name: &'static str,
    /// The car.
    pub car: NamedCar,
    /// In words.
    pub formula: &'static str,
    /// The trials.
    pub trials: Vec<TracedTrial>,
    /// Contrasts that were tried at several events, taken together.
    pub together: Vec<TracedTogether>,
    /// The best known setups.
    pub best: Vec<TracedBest>,
}

/// A contrast that was tried at several events, with the runs that it is made of.
#[derive(Debug, Clone, Serialize)]
pub struct TracedTogether {
    /// In words.
    pub formula: &'static str,
    /// What was tried, with its places.
    pub what: String,
    /// What the laps say.
    pub sentence: String,
    /// `s`, or `%` of the mean lap of its trial where the circuits differ.
    pub unit: &'static str,
    /// In numbers.
    pub fit: TrialFit,
    /// The runs.
    pub runs: Vec<TogetherRun>,
}

/// A best known setup with the runs that were compared.
#[derive(Debug, Clone, Serialize)]
pub struct TracedBest {
    /// In words.
    pub formula: &'static str,
    /// The circuit.
    pub circuit: String,
    /// Of each driver and weather.
    pub known: Vec<TracedKnown>,
    /// Runs that count nowhere.
    pub left_out: Vec<NotCompared>,
}

/// The runs of one driver in one weather.
#[derive(Debug, Clone, Serialize)]
pub struct TracedKnown {
    /// What they say.
    pub sentence: String,
    /// The runs, the quickest first.
    pub runs: Vec<BestRun>,
}

/// A trial with what it is made of.
#[derive(Debug, Clone, Serialize)]
pub struct TracedTrial {
    /// The event; null for a day outside of one.
    pub event: Option<String>,
    /// The day of its first run.
    pub date: String,
    /// What was tried, with its places.
    pub what: String,
    /// Its settings by letter.
    pub settings: Vec<TrialSetting>,
    /// What the best laps say.
    pub sentence: String,
    /// What was measured, the best lap first.
    pub measures: Vec<TracedMeasure>,
    /// What the best laps say with the scatter of other runs of the car; null where their own is enough, or there is none.
    pub pooled: Option<TrialFit>,
}

/// A measure with the runs that it is made of.
#[derive(Debug, Clone, Serialize)]
pub struct TracedMeasure {
    /// `best lap`.
    pub name: String,
    /// The unit; null for a plain number.
    pub unit: Option<String>,
    /// Decimals a reading was typed with; null of lap times.
    pub decimals: Option<u8>,
    /// The runs.
    pub runs: Vec<TracedRun>,
    /// What they say; null where they say nothing.
    pub fit: Option<TrialFit>,
    /// Why they say nothing.
    pub refused: Option<String>,
}

/// A run that a measure is made of.
#[derive(Debug, Clone, Serialize)]
pub struct TracedRun {
    /// Its label.
    pub session: String,
    /// Its setting's letter.
    pub letter: String,
    /// The day.
    pub date: String,
    /// Its place in the running order of the day, from 1.
    pub order: u32,
    /// Its value, in the unit; null where it has none.
    pub value: Option<f64>,
    /// Its line.
    pub line: Option<LedgerLine>,
}

/// What the trials of a car are made of; of one event, or of what is named, where that is asked for.
#[must_use]
pub fn traced(compiled: &Compiled, car: CarId, event: Option<EventId>, named: Option<&str>) -> TrialsTrace {
    let all = build(compiled, car, event, None);
    let meant = |text: &str| named.is_none_or(|named| crate::answer::worth::traced::is_of(text, named));
    let trials = all.trials.into_iter().filter(|trial| meant(&trial.what)).map(|trial| {
        let runs = &trial.runs;
        let measures = trial.measures.into_iter().map(|measure| TracedMeasure {
            runs: runs
                .iter()
                .zip(measure.values)
                .map(|(run, value)| TracedRun {
                    session: run.session.clone(),
                    letter: run.letter.clone(),
                    date: run.date.clone(),
                    order: run.order,
                    value,
                    line: run.line.clone(),
                })
                .collect(),
            name: measure.name,
            unit: measure.unit,
            decimals: measure.decimals,
            fit: measure.fit,
            refused: measure.refused,
        });
        TracedTrial {
            measures: measures.collect(),
            event: trial.event,
            date: trial.date,
            what: trial.what,
            settings: trial.settings,
            sentence: trial.sentence,
            pooled: trial.pooled,
        }
    });
    let together = all.together.into_iter().filter(|one| meant(&one.what)).map(|one| TracedTogether {
        formula: BY_SEVERAL,
        what: one.what,
        sentence: one.sentence,
        unit: one.unit,
        fit: one.fit,
        runs: one.runs,
    });
    // A circuit's runs are asked for by its name, or by that of an event there with nothing else named.
    let best = all.best.into_iter().filter(|best| meant(&best.circuit)).map(|best| TracedBest {
        formula: BY_LAP,
        circuit: best.circuit,
        known: best
            .known
            .into_iter()
            .map(|known| TracedKnown { sentence: known.sentence, runs: known.compared })
            .collect(),
        left_out: best.left_out,
    });
    TrialsTrace {
        together: together.collect(),
        best: best.collect(),
        name: "back-to-back",
        car: crate::answer::car(compiled, car),
        formula: BY_RUNS,
        trials: trials.collect(),
    }
}
