//! What a change did that was tried there and back: the verdict, the drawing, what would tell.
//!
//! Must not know how it is worked out, nor which page it stands on.

use super::now::ladder;
use super::planned::{self, ShownPlan};
use crate::answer::trials::fitted::measured;
use crate::answer::trials::{TrialOutcome, TrialView, caution, judged, view};
use crate::book::model::{CarId, EventId};
use crate::history::sessions::Session;
use crate::report::chart::runs::{self, FittedLaps, RunPoint, RunsChart};
use crate::report::chart::{self, Table, Words};
use crate::report::teller::Teller;
use crate::report::words;
use crate::trials::{Effect, Effects, Trial, combined};
use serde::Serialize;

/// A trial.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShownTrial {
    /// The event, or the day.
    pub event: String,
    /// "bar-hole front".
    pub what: String,
    /// What came of it.
    pub outcome: TrialOutcome,
    /// What the best laps say.
    pub sentence: String,
    /// "A 1", "B 3".
    pub settings: Vec<String>,
    /// "s5 (the weather differed)".
    pub left_out: Vec<String>,
    /// What the medians and the readings say.
    pub measures: Vec<String>,
    /// What else ought to be known.
    pub notes: Vec<String>,
    /// The drawing; none of a trial whose runs could not tell.
    pub chart: Option<RunsChart>,
    /// Its runs' lines.
    pub src: String,
}

/// What was learnt in a season.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Lessons {
    /// The trials that were declared, and how they were followed.
    pub planned: Vec<ShownPlan>,
    /// What was tried there and back, in order.
    pub tried: Vec<ShownTrial>,
    /// Changes that could not tell, each in a sentence.
    pub open: Vec<ShownTrial>,
    /// What looking at so many means.
    pub caution: String,
}

/// The trials of a car at an event, the verdicts first; none of a car that tried nothing there.
pub(in crate::report) fn at(tell: &Teller<'_>, car: CarId, event: Option<EventId>) -> Vec<ShownTrial> {
    let of = |trial: &&Trial| event.is_some() && trial.event == event;
    let mut list: Vec<ShownTrial> =
        tell.trials(car).iter().filter(of).map(|trial| shown(tell, trial)).collect();
    list.sort_by_key(|trial| match trial.outcome {
        TrialOutcome::Quicker | TrialOutcome::NoDifference => 0,
        TrialOutcome::CannotTell => 1,
        TrialOutcome::Refused => 2,
    });
    list
}

/// What a car's year taught; none where nothing was changed between two runs.
pub(in crate::report) fn lessons(tell: &Teller<'_>, car: CarId, year: i16) -> Option<Lessons> {
    let all = tell.trials(car);
    let of_year = all.iter().filter(|trial| trial.date.year() == year);
    let list: Vec<ShownTrial> = of_year.map(|trial| shown(tell, trial)).collect();
    let planned = planned::plans(tell, car, |plan| plan.date.year() == year);
    if list.is_empty() && planned.is_empty() {
        return None;
    }
    let (open, tried) = list.into_iter().partition(|trial| trial.outcome == TrialOutcome::Refused);
    Some(Lessons { planned, tried, open, caution: careful(tell, car) })
}

/// What looking at so many trials of a car means.
pub(in crate::report) fn careful(tell: &Teller<'_>, car: CarId) -> String {
    let trials = tell.trials(car);
    caution(judged(trials, &combined::combined(tell.compiled.facts(), trials)))
}

fn shown(tell: &Teller<'_>, trial: &Trial) -> ShownTrial {
    let view = view(tell.compiled, trial, None);
    let event = trial.event.map_or_else(|| words::date(trial.date), |event| tell.event(event).to_owned());
    let entries =
        trial.runs.iter().filter_map(|run| tell.entry(tell.cx.history.sessions.get(run.session).entry));
    ShownTrial {
        settings: view.settings.iter().map(|one| format!("{} {}", one.letter, one.text)).collect(),
        left_out: view.left_out.iter().map(|one| format!("{} ({})", one.session, one.why)).collect(),
        measures: view.measures.iter().map(measured).collect(),
        notes: view.notes.clone(),
        chart: drawn(tell, trial, &view, &event),
        src: crate::report::sources::lines(tell.cx.files, entries.map(crate::book::entry::Entry::span)),
        event,
        what: view.what,
        outcome: view.outcome,
        sentence: view.sentence,
    }
}

/// The runs as a drawing, where they can tell something.
fn drawn(tell: &Teller<'_>, trial: &Trial, view: &TrialView, event: &str) -> Option<RunsChart> {
    let effects = trial.best()?.effects.as_ref().ok().or(trial.pooled.as_ref())?;
    let mut before = None;
    let mut points = Vec::new();
    let mut rows = Vec::new();
    for (run, shown) in trial.runs.iter().zip(&view.runs) {
        let session = tell.cx.history.sessions.get(run.session);
        let lap = session.best?;
        let setting = view.settings.get(run.level).map_or("", |setting| setting.text.as_str());
        let said = spoken(tell, session);
        let turned = before != Some(run.level);
        before = Some(run.level);
        let change = vec![
            format!("{} {setting}", view.what),
            format!("{} {setting}", shown.letter),
            shown.letter.clone(),
        ];
        points.push(RunPoint {
            label: shown.session.clone(),
            lap,
            level: run.level,
            letter: shown.letter.clone(),
            change: if turned { change } else { Vec::new() },
            words: said.clone(),
        });
        rows.push(vec![
            shown.session.clone(),
            shown.letter.clone(),
            setting.to_owned(),
            words::lap(lap, 2),
            said,
        ]);
    }
    let head = ["session", "letter", "setting", "best, min:s", "said"].map(str::to_owned).to_vec();
    let drawing = Words {
        id: chart::id(&["tried", event, &view.what, &view.runs.first()?.session]),
        title: format!("{} at {event}: best laps, the quicker the higher", view.what),
        desc: format!(
            "{}; {}. Thin lines: the laps as fitted, the whole line of A, a broken one of each other.",
            view.order,
            view.settings
                .iter()
                .map(|one| format!("{} {}", one.letter, one.text))
                .collect::<Vec<_>>()
                .join(", ")
        ),
    };
    Some(runs::runs(drawing, &points, &fits(trial, effects, &points), &[], Table { head, rows }))
}

/// What the driver said after a run: the graded words.
pub(super) fn spoken(tell: &Teller<'_>, session: &Session) -> String {
    let said = ladder::said(tell, session).into_iter().filter(|words| !words.own);
    said.map(|words| words.graded).find(|graded| !graded.is_empty()).unwrap_or_default()
}

/// The fitted laps of each setting, day by day: those of A whole, the others' at as far as the change says. Of a number turned in steps
/// there is no line for each.
fn fits(trial: &Trial, effects: &Effects, points: &[RunPoint]) -> Vec<FittedLaps> {
    let by = |level: usize| match level {
        0 => Some(0.0),
        level => {
            let of = |one: &&Effect| one.from == 0 && one.to == level && !effects.straight;
            effects.effects.iter().find(of).map(|one| one.value)
        }
    };
    let mut days: Vec<usize> = trial.runs.iter().map(|run| run.day).collect();
    days.dedup();
    let mut list = Vec::new();
    for (day, trend) in days.iter().zip(&effects.trends) {
        let of_day: Vec<(usize, f64, f64)> = trial
            .runs
            .iter()
            .enumerate()
            .filter(|(_, run)| run.day == *day)
            .filter_map(|(index, run)| {
                Some((index, f64::from(run.order), points.get(index)?.lap - by(run.level)?))
            })
            .collect();
        let count = of_day.len().max(1) as f64;
        let middle = of_day.iter().map(|(_, order, _)| order).sum::<f64>() / count;
        let level = of_day.iter().map(|(.., lap)| lap).sum::<f64>() / count;
        for setting in 0..trial.levels.len() {
            let Some(by) = by(setting) else { continue };
            let lap = |order: f64| level + trend * (order - middle) + by;
            list.push(FittedLaps {
                level: setting,
                laps: of_day.iter().map(|(index, order, _)| (*index, lap(*order))).collect(),
            });
        }
    }
    list
}
