//! Where and how a run was driven: which runs may be compared at all.
//!
//! One circuit, one driver, one weather, the last by the words of the run's line. Must not know laps.

use super::factor::Factor;
use super::said;
use crate::book::clause::Clause;
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
    /// How far, of a run that states it and no laps.
    pub way: Option<Way>,
}

/// How far a run was that says so and says no laps: one stage, one climb. Tenths of a kilometre, as finely as it is typed (common practice);
/// runs of two are of two roads, and their times are not compared.
pub type Way = i64;

/// The way of a run; `None` of laps, which are of their circuit, and of one that is longer than a lap of it and a half.
#[must_use]
pub fn way(facts: Facts<'_>, run: &Session) -> Option<Way> {
    let event = run.event.and_then(|event| facts.book.events.get(event));
    let circuit = event.and_then(|event| event.circuit).and_then(|circuit| facts.book.circuits.get(circuit));
    let laps = |metres: f64| circuit.and_then(|circuit| circuit.length).is_some_and(|lap| metres > 1.5 * lap);
    let told = run.distance.filter(|metres| run.laps.is_none() && metres.is_finite() && !laps(*metres));
    told.map(|metres| libm::round(metres / 100.0) as Way)
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
        way: way(facts, run),
    })
}

/// Who drove, if anybody is said to have; `None` of a run that several drove: nobody knows whose its laps are.
#[must_use]
pub fn driver(facts: Facts<'_>, run: &Session) -> Option<Option<PersonId>> {
    let line = facts.book.entries.get(run.entry).and_then(|entry| facts.book.extra(entry));
    // Somebody is named, and nobody can read who.
    let lost = run.driver.is_none() && line.is_some_and(|extra| extra.unclear.has(Clause::By));
    (facts.history.sessions.drivers(run).len() < 2 && !lost).then_some(run.driver)
}

/// The words of a run's line about weather and track. `None` where they could not be read.
#[must_use]
pub fn weather(facts: Facts<'_>, run: &Session) -> Option<Vec<String>> {
    let extra = facts.book.entries.get(run.entry).and_then(|entry| facts.book.extra(entry));
    (!extra.is_some_and(Extra::conditions_lost)).then(|| said::weather(facts, run))
}
