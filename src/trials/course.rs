//! Where and how a run was driven: which runs may be compared at all.
//!
//! One circuit, one driver, one weather, the last by the words of the run's line. Must not know laps.

use super::factor::Factor;
use super::said;
use crate::book::entry::Extra;
use crate::book::model::{CircuitId, PersonId};
use crate::history::Facts;
use crate::history::sessions::Session;

/// Where and how some runs were driven: those of one course, one driver and one weather can be compared.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Course {
    /// The circuit.
    pub circuit: Option<CircuitId>,
    /// Who drove.
    pub driver: Option<PersonId>,
    /// What the lines say of weather and track.
    pub weather: Vec<String>,
}

/// The course of a run.
///
/// # Errors
/// What of it is not known.
pub fn of_run(facts: Facts<'_>, run: &Session) -> Result<Course, Factor> {
    let event = run.event.and_then(|event| facts.book.events.get(event));
    Ok(Course {
        circuit: event.and_then(|event| event.circuit),
        driver: driver(facts, run).ok_or(Factor::Driver)?,
        weather: weather(facts, run).ok_or(Factor::Weather)?,
    })
}

/// Who drove, if anybody is said to have; `None` of a run that several drove: nobody knows whose its laps are.
#[must_use]
pub fn driver(facts: Facts<'_>, run: &Session) -> Option<Option<PersonId>> {
    (facts.history.sessions.drivers(run).len() < 2).then_some(run.driver)
}

/// The words of a run's line about weather and track. `None` where they could not be read.
#[must_use]
pub fn weather(facts: Facts<'_>, run: &Session) -> Option<Vec<String>> {
    let extra = facts.book.entries.get(run.entry).and_then(|entry| facts.book.extra(entry));
    (!extra.is_some_and(Extra::conditions_lost)).then(|| said::weather(facts, run))
}
