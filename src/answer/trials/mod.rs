//! Back to back: what each change of a car did that was tried there and back, what cannot be said, and what would tell; as plain data.
//!
//! Must not know rendering.

pub mod best;
pub mod fitted;
pub mod named;
pub mod planned;
mod run;
pub mod sentence;
pub mod together;
pub mod traced;

use super::{LedgerLine, NamedCar, entry_line};
use crate::Compiled;
use crate::book::model::{CarId, EventId};
use crate::history::sessions::{Session, SessionId};
use crate::trials::combined::{self, Combined};
use crate::trials::effect::{FREEDOM, LEVEL};
use crate::trials::{self, Effects, Measure, MeasuredTrial, Trial};
use crate::units::number;
use crate::words;
pub use run::{RunLeftOut, TrialSetting};
pub use sentence::TrialOutcome;
use serde::Serialize;

/// Every trial of a car.
#[derive(Debug, Clone, Serialize)]
pub struct BackToBack {
    /// The car.
    pub car: NamedCar,
    /// One verdict in so many about a change that does nothing is wrong: 0.05.
    pub level: f64,
    /// The trials that were declared beforehand, in order, and how they were followed.
    pub planned: Vec<planned::PlannedView>,
    /// The trials, in order.
    pub trials: Vec<TrialView>,
    /// Contrasts tried at several events, taken together.
    pub together: Vec<TrialsTogether>,
    /// How many of them could bear a verdict.
    pub judged: usize,
    /// What looking at so many means.
    pub caution: String,
    /// The best known setup at each circuit, by runs that can be compared; of an event asked for at its circuit alone.
    pub best: Vec<best::BestAt>,
}

/// One trial.
#[derive(Debug, Clone, Serialize)]
pub struct TrialView {
    /// The event; null for a day outside of one.
    pub event: Option<String>,
    /// The day of its first run.
    pub date: String,
    /// What was tried, with its places: `bar-hole front`.
    pub what: String,
    /// Its settings, A first.
    pub settings: Vec<TrialSetting>,
    /// The settings in the order they were run, days apart: `A B | A B`.
    pub order: String,
    /// The runs that count.
    pub runs: Vec<TrialRunView>,
    /// The runs that do not.
    pub left_out: Vec<RunLeftOut>,
    /// `quicker`, `no-difference`, `cannot-tell` or `refused`.
    pub outcome: TrialOutcome,
    /// What the best laps say.
    pub sentence: String,
    /// What was measured, the best lap first.
    pub measures: Vec<TrialMeasure>,
    /// What the best laps say with the scatter of the car's other runs on that circuit, where their own is not enough.
    pub pooled: Option<TrialFit>,
    /// What would tell.
    pub plan: Option<TrialPlan>,
    /// What else ought to be known.
    pub notes: Vec<String>,
}

/// One contrast tried at several events.
#[derive(Debug, Clone, Serialize)]
pub struct TrialsTogether {
    /// What was tried, with its places.
    pub what: String,
    /// The events, each once.
    pub events: Vec<String>,
    /// `s`, or `%` of the lap where the circuits differ.
    pub unit: &'static str,
    /// What the laps say.
    pub fit: TrialFit,
    /// In words.
    pub sentence: String,
    /// The runs that they are made of: what a trace of it shows.
    #[serde(skip)]
    pub runs: Vec<together::TogetherRun>,
}

/// A run that counts.
#[derive(Debug, Clone, Serialize)]
pub struct TrialRunView {
    /// Its label.
    pub session: String,
    /// Its setting's letter.
    pub letter: String,
    /// Its place in the running order of the day, from 1.
    pub order: u32,
    /// The day.
    pub date: String,
    /// Its best lap, s; null where it has none that counts.
    pub best: Option<f64>,
    /// Its line.
    pub line: Option<LedgerLine>,
}

/// A measure.
#[derive(Debug, Clone, Serialize)]
pub struct TrialMeasure {
    /// `best lap`, `median of the flying laps`, or what was read, as a mean of its places.
    pub name: String,
    /// The unit; null for a plain number.
    pub unit: Option<String>,
    /// Of each run that counts, in the unit; null where it has none.
    pub values: Vec<Option<f64>>,
    /// Decimals a reading was typed with; null of lap times.
    pub decimals: Option<u8>,
    /// What they say; null where they say nothing.
    pub fit: Option<TrialFit>,
    /// Why they say nothing.
    pub refused: Option<String>,
}

/// What least squares say.
#[derive(Debug, Clone, Serialize)]
pub struct TrialFit {
    /// The differences of every pair of settings; of a straight line that of its ends alone.
    pub effects: Vec<TrialEffect>,
    /// Whether it is of a straight line through the numbers of more than two settings.
    pub straight: bool,
    /// By how much the value rises from run to run, of each day.
    pub trends: Vec<f64>,
    /// Degrees of freedom.
    pub freedom: usize,
    /// How many of them come from other runs.
    pub pooled: usize,
    /// The scatter of one run.
    pub scatter: f64,
    /// Whether it may bear a verdict: two degrees of freedom.
    pub bears_verdict: bool,
}

/// A difference.
#[derive(Debug, Clone, Serialize)]
pub struct TrialEffect {
    /// From this setting.
    pub from: String,
    /// To this one.
    pub to: String,
    /// How much more the value is.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
    /// The lower end of the interval.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
    /// Two-sided p of Student's t, times the number of differences that were looked at.
    pub p: f64,
}

/// What would tell.
#[derive(Debug, Clone, Serialize)]
pub struct TrialPlan {
    /// The settings of the further runs, in order: `B A B`.
    pub order: String,
    /// How many.
    pub runs: usize,
    /// How far the difference would then be known either way, s; null where nobody can say how far a lap of this car scatters.
    pub within: Option<f64>,
    /// The difference that was asked about, s.
    pub wanted: f64,
    /// Whether a steady trend cannot fool the whole order.
    pub drift_free: bool,
    /// Whether it is for a day of its own.
    pub anew: bool,
    /// In words.
    pub words: String,
}

/// Builds it of one car; of one event where that is named. `wanted` is the difference that is asked about, s; without it, half a per cent
/// of the lap.
#[must_use]
pub fn build(compiled: &Compiled, car: CarId, event: Option<EventId>, wanted: Option<f64>) -> BackToBack {
    let all = trials::of_car(compiled.facts(), car);
    let asked = all.iter().filter(|trial| event.is_none() || trial.event == event);
    let views: Vec<TrialView> = asked.map(|trial| view(compiled, trial, wanted)).collect();
    let together = combined::combined(compiled.facts(), &all);
    let judged = judged(&all, &together);
    BackToBack {
        car: super::car(compiled, car),
        level: LEVEL,
        planned: declared(compiled, car, event),
        trials: views,
        together: together.iter().filter_map(|one| joint(compiled, &all, one)).collect(),
        judged,
        caution: caution(judged),
        best: known(compiled, car, event),
    }
}

/// The trials that were declared of it; of one event where that is named.
fn declared(compiled: &Compiled, car: CarId, event: Option<EventId>) -> Vec<planned::PlannedView> {
    let all = planned::of_car(compiled, car).into_iter();
    all.filter(|(plan, _)| event.is_none() || plan.event == event).map(|(_, view)| view).collect()
}

/// The best known setup at the circuit of an event, or at each circuit, against the car as its last line left it.
fn known(compiled: &Compiled, car: CarId, event: Option<EventId>) -> Vec<best::BestAt> {
    let all = trials::best::comparable(compiled.facts(), car);
    let until = compiled.history.order.entries.next_key();
    let at = |circuit| best::at(compiled, car, &all, circuit, until).0;
    match event {
        Some(event) => {
            compiled.book.events.get(event).and_then(|event| event.circuit).map(at).into_iter().collect()
        }
        None => all.circuits().map(at).collect(),
    }
}

/// How many verdicts were looked for in all that a car tried, asked for or not: each trial that could bear one, and each contrast of several
/// events.
#[must_use]
pub fn judged(all: &[Trial], together: &[Combined]) -> usize {
    let alone = all.iter().filter(|trial| trial.verdict().is_some()).count();
    alone + together.iter().filter(|one| one.effects.bears_verdict()).count()
}

/// What looking at several trials means.
#[must_use]
pub fn caution(judged: usize) -> String {
    let one_in = number::format(1.0 / LEVEL, 0);
    match judged {
        0 => String::new(),
        1 => format!(
            "Judged at 0.05: of {one_in} changes that do nothing one would look as if it did something."
        ),
        many => format!(
            "{many} trials were judged at 0.05 each: did none of the changes do anything, about one in {one_in} would still look as if it did."
        ),
    }
}

/// The difference that is asked about where nobody says: half a per cent of the lap, to the tenth, and no less than a tenth.
#[must_use]
pub fn wanted(compiled: &Compiled, trial: &Trial) -> f64 {
    let lap =
        trial.runs.first().and_then(|run| compiled.history.sessions.get(run.session).best).unwrap_or(0.0);
    (libm::round(lap * 0.05) / 10.0).max(0.1)
}

/// One trial as a view.
#[must_use]
pub fn view(compiled: &Compiled, trial: &Trial, asked: Option<f64>) -> TrialView {
    let wanted = asked.unwrap_or_else(|| wanted(compiled, trial));
    // Worked out where it is asked for: most changes of a long book are settled, or never to be.
    let plan = std::cell::OnceCell::new();
    let asked = || plan.get_or_init(|| trials::next::plan(trial, wanted)).clone();
    let said = sentence::said(compiled, trial, wanted, &asked);
    let open = matches!(said.outcome, TrialOutcome::CannotTell | TrialOutcome::Refused);
    let session = |id: SessionId| compiled.history.sessions.get(id);
    let label = |session: &Session| compiled.files.text(session.label).to_owned();
    let names = named::TrialNames::of(compiled, trial);
    TrialView {
        event: trial
            .event
            .and_then(|event| compiled.book.events.get(event))
            .map(|one| one.named.typed.to_string()),
        date: trial.date.to_string(),
        what: names.what,
        settings: names
            .settings
            .into_iter()
            .enumerate()
            .map(|(level, text)| TrialSetting { letter: sentence::letter(level), text })
            .collect(),
        order: sentence::order(trial),
        runs: trial
            .runs
            .iter()
            .map(|run| {
                let one = session(run.session);
                TrialRunView {
                    session: label(one),
                    letter: sentence::letter(run.level),
                    order: run.order,
                    date: one.date.to_string(),
                    best: one.best.filter(|best| best.is_finite() && *best > 0.0),
                    line: entry_line(compiled, one.entry),
                }
            })
            .collect(),
        left_out: trial
            .aside
            .iter()
            .map(|(id, why)| RunLeftOut {
                session: label(session(*id)),
                why: named::aside(compiled, why, Some(*id)),
                line: entry_line(compiled, session(*id).entry),
            })
            .collect(),
        outcome: said.outcome,
        sentence: words::capital(&said.text),
        measures: trial
            .measured
            .iter()
            .flatten()
            .map(|measured| measure(compiled, trial, measured))
            .collect(),
        pooled: trial.pooled.as_ref().map(fit),
        plan: open.then(asked).flatten().map(|plan| TrialPlan {
            order: plan.settings.iter().map(|level| sentence::letter(*level)).collect::<Vec<_>>().join(" "),
            runs: plan.settings.len(),
            within: plan.within,
            wanted,
            drift_free: plan.drift_free,
            anew: plan.anew,
            words: words::capital(&sentence::would_tell(&plan, wanted)),
        }),
        notes: notes(trial),
    }
}

/// What a trial says of two of its settings; `None` of one whose runs could not tell.
#[must_use]
pub fn of_pair(compiled: &Compiled, trial: &Trial, (a, b): (usize, usize)) -> Option<String> {
    if trial.levels.len() == 2 {
        let view = view(compiled, trial, None);
        return (view.outcome != TrialOutcome::Refused).then_some(view.sentence);
    }
    let effects = trial.verdict()?;
    let effect = effects.effects.iter().find(|one| [(a, b), (b, a)].contains(&(one.from, one.to)))?;
    Some(sentence::of_pair(&named::TrialNames::of(compiled, trial), trial, effects, effect))
}

fn joint(compiled: &Compiled, all: &[Trial], one: &Combined) -> Option<TrialsTogether> {
    let trials: Vec<&Trial> = one.trials.iter().filter_map(|id| all.get(id.index())).collect();
    let first = trials.first()?;
    let meeting = |trial: &&Trial| {
        let event = trial.event.and_then(|event| compiled.book.events.get(event));
        event.map_or_else(|| trial.date.to_string(), |event| event.named.typed.to_string())
    };
    let mut events: Vec<String> = Vec::new();
    for event in trials.iter().map(meeting) {
        if !events.contains(&event) {
            events.push(event);
        }
    }
    let (named_events, more) = events.split_at(events.len().min(4));
    let mut at = named_events.to_vec();
    if !more.is_empty() {
        at.push(words::count(more.len() as u64, "more event", "more events"));
    }
    let times =
        if trials.len() > events.len() { format!(", in {} trials", trials.len()) } else { String::new() };
    let unit = if one.percent { "%" } else { "s" };
    let names = named::TrialNames::of(compiled, first);
    let said = sentence::together(&names, &one.effects, unit);
    Some(TrialsTogether {
        what: names.what,
        sentence: words::capital(&format!("{said}, at {}{times}", words::and(&at))),
        events,
        unit,
        fit: fit(&one.effects),
        runs: one.runs.iter().map(|run| together::of_several(compiled, run)).collect(),
    })
}

fn measure(compiled: &Compiled, trial: &Trial, measured: &MeasuredTrial) -> TrialMeasure {
    let name = match measured.measure {
        Measure::BestLap => "best lap".to_owned(),
        Measure::MedianLap => "median of the flying laps".to_owned(),
        Measure::Reading(quantity) => format!("{}, mean", compiled.book.vocabulary.get(quantity).name),
    };
    let unit = match measured.measure {
        Measure::BestLap | Measure::MedianLap => Some("s".to_owned()),
        Measure::Reading(_) => {
            measured.unit.map(|unit| unit.get().shown().to_owned()).filter(|unit| !unit.is_empty())
        }
    };
    let refused = measured.effects.as_ref().err();
    TrialMeasure {
        name,
        unit,
        values: measured.values.clone(),
        decimals: measured.decimals,
        fit: measured.effects.as_ref().ok().map(fit),
        refused: refused.map(|why| sentence::refused(compiled, trial, why)),
    }
}

fn fit(effects: &Effects) -> TrialFit {
    TrialFit {
        effects: effects
            .effects
            .iter()
            .map(|one| TrialEffect {
                from: sentence::letter(one.from),
                to: sentence::letter(one.to),
                value: one.value,
                error: one.error,
                low: one.low,
                high: one.high,
                p: one.p,
            })
            .collect(),
        straight: effects.straight,
        trends: effects.trends.clone(),
        freedom: effects.freedom,
        pooled: effects.pooled,
        scatter: effects.scatter,
        bears_verdict: effects.bears_verdict(),
    }
}

/// What else ought to be known of a trial.
fn notes(trial: &Trial) -> Vec<String> {
    let mut list = Vec::new();
    let fit = trial.best().and_then(|best| best.effects.as_ref().ok());
    if fit.is_some_and(|fit| fit.freedom < FREEDOM) && trial.pooled.is_none() {
        list.push("By one degree of freedom: one odd lap could turn it.".to_owned());
    }
    if let Some((usual, freedom)) = trial.usual.filter(|(_, freedom)| *freedom >= FREEDOM) {
        list.push(format!(
            "With nothing changed a lap of that length by this car scatters by about {} s from run to run ({}).",
            number::format(usual, 2),
            sentence::freedom(freedom)
        ));
    }
    list
}
