//! What is to be tried next: changes whose laps could not tell, in the order that would, which a steady trend cannot fool.
//!
//! Must not know how an order is found, nor which page it stands on.

use super::planned::ShownPlan;
use crate::answer::trials::{TrialOutcome, TrialView, view};
use crate::book::model::CarId;
use crate::history::order::Rank;
use crate::report::teller::Teller;
use crate::trials::{Factor, Trial};
use serde::Serialize;
use std::collections::BTreeSet;

/// A change to be tried.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ToTry {
    /// "bar-hole front".
    pub what: String,
    /// "A 1", "B 3".
    pub settings: Vec<String>,
    /// The settings of the runs, in order: "A B A B A".
    pub order: String,
    /// "five runs, A B A B A, on a day of their own with nothing else changed, would tell 0.3 s".
    pub sentence: String,
    /// The same as a line to paste into the ledger: "try bar-hole front A 1, B 3 order A B A B A"; empty where its settings are not said so.
    pub line: String,
    /// Where its laps could not tell: an event.
    pub event: String,
    /// The lines of those runs.
    pub src: String,
}

/// The settings of a car whose last trial before a rank left them open: those whose laps nearly told first, and of them the latest.
/// What is declared already (`planned`) is not told once more.
pub(super) fn to_try(
    tell: &Teller<'_>,
    car: CarId,
    rank: Rank,
    planned: &[ShownPlan],
    most: usize,
) -> Vec<ToTry> {
    let sessions = &tell.cx.history.sessions;
    let before = |trial: &&Trial| trial.runs.last().is_some_and(|run| sessions.get(run.session).rank < rank);
    let of_setting = |trial: &&Trial| matches!(trial.factor, Factor::Setting(_));
    let mut seen: BTreeSet<String> = planned.iter().map(|plan| plan.what.clone()).collect();
    let mut list = Vec::new();
    for trial in tell.trials(car).iter().filter(before).filter(of_setting).rev() {
        let said = view(tell.compiled, trial, None);
        // The newest trial of a thing says whether it is open.
        if !seen.insert(said.what.clone()) {
            continue;
        }
        let Some(plan) = said.plan.clone().filter(|plan| plan.drift_free) else { continue };
        let lines = trial.runs.iter().filter_map(|run| tell.entry(sessions.get(run.session).entry));
        let refused = said.outcome == TrialOutcome::Refused;
        list.push((
            refused,
            ToTry {
                line: line(&said, &plan.order),
                what: said.what,
                settings: said.settings.iter().map(|one| format!("{} {}", one.letter, one.text)).collect(),
                order: plan.order,
                sentence: plan.words,
                event: said.event.unwrap_or(said.date),
                src: crate::report::sources::lines(tell.cx.files, lines.map(crate::book::entry::Entry::span)),
            },
        ));
    }
    list.sort_by_key(|(refused, _)| *refused);
    list.truncate(most);
    list.into_iter().map(|(_, one)| one).collect()
}

/// The line that declares it; none of settings that differ from place to place, or that take a clause.
fn line(trial: &TrialView, order: &str) -> String {
    let one = |text: &str| !text.contains([',', '"']) && !text.contains(" from ") && !text.is_empty();
    if !trial.settings.iter().all(|setting| one(&setting.text)) {
        return String::new();
    }
    let settings: Vec<String> =
        trial.settings.iter().map(|setting| format!("{} {}", setting.letter, setting.text)).collect();
    format!("try {} {} order {order}", trial.what, settings.join(", "))
}
