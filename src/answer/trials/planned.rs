//! Trials that were declared before they were run, and how they were followed, in words.
//!
//! Must not know pages, nor how a run is held to a plan.

use super::named;
use super::run::{RunLeftOut, TrialSetting};
use crate::Compiled;
use crate::answer::{LedgerLine, entry_line};
use crate::book::entry::{EntryId, TryFacts};
use crate::book::model::CarId;
use crate::history::sessions::SessionId;
use crate::trials::planned;
use crate::trials::{Departure, Factor, Followed, Level, Planned};
use crate::words;
use serde::Serialize;

/// How a declared trial was followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum PlanState {
    /// So far; it goes on.
    Open,
    /// To its end.
    Done,
    /// Not from some run on.
    NotFollowed,
    /// The event or the day was over before its end.
    CutShort,
    /// Another of the same thing took its place.
    Replaced,
    /// Nobody can say: a run of it is not this reader's to read.
    NotKnown,
}

/// A declared trial.
#[derive(Debug, Clone, Serialize)]
pub struct PlannedView {
    /// The event; null for a day outside of one.
    pub event: Option<String>,
    /// The day of its line.
    pub date: String,
    /// What is tried, with its places: `bar-hole front`.
    pub what: String,
    /// Its settings by letter, as they are typed.
    pub settings: Vec<TrialSetting>,
    /// The letters of the runs, in order: `A B A B A`.
    pub order: String,
    /// How many runs that is.
    pub planned_runs: usize,
    /// The runs that were as planned.
    pub runs: Vec<PlannedRunView>,
    /// The runs that took no place in the order.
    pub passed: Vec<RunLeftOut>,
    /// `open`, `done`, `not-followed`, `cut-short`, `replaced` or `not-known`.
    pub state: PlanState,
    /// The letter of the next run; null where none is to come.
    pub next: Option<String>,
    /// The run that was not as planned; null where none was.
    pub departed: Option<String>,
    /// How it was followed, in words.
    pub sentence: String,
    /// Its line.
    pub line: Option<LedgerLine>,
}

/// A run that was as planned.
#[derive(Debug, Clone, Serialize)]
pub struct PlannedRunView {
    /// Its label.
    pub session: String,
    /// Its setting's letter.
    pub letter: String,
    /// Its line.
    pub line: Option<LedgerLine>,
}

/// The trials that were declared of a car, in order.
#[must_use]
pub fn of_car(compiled: &Compiled, car: CarId) -> Vec<(Planned, PlannedView)> {
    let all = planned::of_car(compiled.facts(), car);
    all.into_iter().filter_map(|plan| view(compiled, &plan).map(|view| (plan, view))).collect()
}

fn view(compiled: &Compiled, plan: &Planned) -> Option<PlannedView> {
    let says = says(compiled, plan.line)?;
    let letter = |level: usize| says.levels.get(level).map_or_else(String::new, |one| one.letter.to_string());
    let label = |id: SessionId| {
        let session = compiled.history.sessions.get(id);
        (compiled.files.text(session.label).to_owned(), entry_line(compiled, session.entry))
    };
    let settings = says.levels.iter().map(|level| {
        let typed = level.words.iter().map(|word| compiled.files.text(*word));
        TrialSetting { letter: level.letter.to_string(), text: typed.collect::<Vec<_>>().join(" ") }
    });
    let event = plan.event.and_then(|event| compiled.book.events.get(event));
    let (state, next, departed) = match &plan.followed {
        Followed::Open(next) => (PlanState::Open, Some(letter(*next)), None),
        Followed::Done => (PlanState::Done, None, None),
        Followed::Not(run, _) => (PlanState::NotFollowed, None, Some(label(*run).0)),
        Followed::CutShort => (PlanState::CutShort, None, None),
        Followed::Replaced(_) => (PlanState::Replaced, None, None),
        Followed::NotKnown(_) => (PlanState::NotKnown, None, None),
    };
    Some(PlannedView {
        event: event.map(|event| event.named.typed.to_string()),
        date: plan.date.to_string(),
        what: what(compiled, plan.factor, says),
        settings: settings.collect(),
        order: says.order.iter().map(|level| letter(*level)).collect::<Vec<_>>().join(" "),
        planned_runs: says.order.len(),
        runs: plan
            .runs
            .iter()
            .map(|(id, level)| {
                let (session, line) = label(*id);
                PlannedRunView { session, letter: letter(*level), line }
            })
            .collect(),
        passed: plan
            .passed
            .iter()
            .map(|(id, why)| {
                let (session, line) = label(*id);
                RunLeftOut { session, why: named::aside(compiled, why, Some(*id)), line }
            })
            .collect(),
        state,
        next,
        departed,
        sentence: sentence(compiled, plan, says),
        line: entry_line(compiled, plan.line),
    })
}

fn says(compiled: &Compiled, line: EntryId) -> Option<&TryFacts> {
    compiled.book.extra(compiled.book.entries.get(line)?)?.tried.as_deref()
}

/// "bar-hole front".
fn what(compiled: &Compiled, factor: Factor, says: &TryFacts) -> String {
    let places = named::spots(compiled, &says.places);
    format!("{} {places}", named::factor(compiled, factor)).trim_end().to_owned()
}

/// "Run 3 of 5: A next", or what was not as planned.
fn sentence(compiled: &Compiled, plan: &Planned, says: &TryFacts) -> String {
    let all = says.order.len();
    let ran = plan.runs.len();
    let letter = |level: usize| says.levels.get(level).map_or(' ', |one| one.letter);
    let place = plan.event.and_then(|event| compiled.book.events.get(event));
    match &plan.followed {
        Followed::Open(next) => format!("Run {} of {all}: {} next", ran + 1, letter(*next)),
        Followed::Done => "Done as planned".to_owned(),
        Followed::CutShort => {
            let over = place.map_or_else(
                || "the day was over".to_owned(),
                |event| format!("{} was over", event.named.typed),
            );
            let left: Vec<String> =
                says.order.iter().skip(ran).map(|level| letter(*level).to_string()).collect();
            format!(
                "Not followed: {over} after {ran} of {}, without {}",
                words::count(all, "run", "runs"),
                left.join(" ")
            )
        }
        Followed::Replaced(_) => {
            format!("Given up after {ran} of {} for the plan after it", words::count(all, "run", "runs"))
        }
        Followed::NotKnown(run) => {
            let session = compiled.history.sessions.get(*run);
            format!("Not known: this reader may not read {}", compiled.files.text(session.label))
        }
        Followed::Not(run, departure) => {
            let session = compiled.history.sessions.get(*run);
            let label = compiled.files.text(session.label);
            let turn = format!("run {} of {all}", ran + 1);
            let how = match departure {
                Departure::Order { wanted, ran } => {
                    format!("{turn} was to be {}, and {label} was {}", letter(*wanted), letter(*ran))
                }
                Departure::NoLetter(level) => format!(
                    "in {label}, {turn}, {} stood at {}, which no letter names",
                    what(compiled, plan.factor, says),
                    at(compiled, level)
                ),
                Departure::Otherwise(factors) => {
                    let with: Vec<String> =
                        factors.iter().map(|other| other_thing(compiled, *other, *run)).collect();
                    let whose = if factors.contains(&Factor::Hidden) {
                        ", which this reader may not read"
                    } else {
                        ""
                    };
                    format!("in {label}, {turn}, something else was otherwise: {}{whose}", words::and(&with))
                }
                Departure::Elsewhere => format!(
                    "in {label}, {turn}, {} was otherwise at another place too",
                    named::factor(compiled, plan.factor)
                ),
            };
            format!("Not followed: {how}")
        }
    }
}

/// What else was otherwise; of the weather what the run's line says.
fn other_thing(compiled: &Compiled, factor: Factor, run: SessionId) -> String {
    if factor != Factor::Weather {
        return named::factor(compiled, factor);
    }
    let said = crate::trials::said::weather(compiled.facts(), compiled.history.sessions.get(run));
    if said.is_empty() {
        named::factor(compiled, factor)
    } else {
        format!("its line says {}", words::and(&said))
    }
}

/// What it stood at.
fn at(compiled: &Compiled, level: &Level) -> String {
    let places: Vec<_> = match level {
        Level::Setting(values) => values.iter().map(|(place, _)| *place).collect(),
        Level::Parts(parts) => parts.iter().map(|(place, ..)| *place).collect(),
        Level::Driver(_) | Level::Weather(_) | Level::Times(_) => Vec::new(),
    };
    named::setting(compiled, level, &places)
}
