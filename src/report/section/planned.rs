//! Trials that were declared before they were run: the plan, and how it was followed.
//!
//! Must not know how a run is held to a plan, nor which page it stands on.

use crate::answer::trials::planned::{PlanState, PlannedView};
use crate::book::entry::Entry;
use crate::book::model::CarId;
use crate::report::teller::Teller;
use crate::trials::Planned;
use serde::Serialize;

/// A trial that was declared beforehand.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShownPlan {
    /// The event, or the day.
    pub event: String,
    /// "bar-hole front".
    pub what: String,
    /// "A 1", "B 3".
    pub settings: Vec<String>,
    /// The settings of the runs, in order: "A B A B A".
    pub order: String,
    /// How far it is.
    pub state: PlanState,
    /// "Run 3 of 5: A next", or what was not as planned.
    pub sentence: String,
    /// "s2 (no lap time that counts)": runs that took no place in the order.
    pub passed: Vec<String>,
    /// Its line, and those of its runs.
    pub src: String,
}

/// The declared trials of a car that a page tells of, in order.
pub(super) fn plans(tell: &Teller<'_>, car: CarId, tells: impl Fn(&Planned) -> bool) -> Vec<ShownPlan> {
    let all = tell.planned(car).iter();
    all.filter(|(plan, _)| tells(plan)).map(|(plan, view)| shown(tell, plan, view)).collect()
}

fn shown(tell: &Teller<'_>, plan: &Planned, view: &PlannedView) -> ShownPlan {
    let sessions = &tell.cx.history.sessions;
    let runs = plan.runs.iter().map(|(run, _)| sessions.get(*run).entry);
    let lines = std::iter::once(plan.line).chain(runs).filter_map(|line| tell.entry(line));
    ShownPlan {
        src: crate::report::sources::lines(tell.cx.files, lines.map(Entry::span)),
        event: view.event.clone().unwrap_or_else(|| crate::report::words::date(plan.date)),
        what: view.what.clone(),
        settings: view.settings.iter().map(|one| format!("{} {}", one.letter, one.text)).collect(),
        order: view.order.clone(),
        state: view.state,
        sentence: view.sentence.clone(),
        passed: view.passed.iter().map(|one| format!("{} ({})", one.session, one.why)).collect(),
    }
}
