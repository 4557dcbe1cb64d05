//! Best laps, by circuit and by session.
//!
//! Must not know settings.

use crate::book::model::{CarId, CircuitId};
use crate::history::sessions::{self, Session};
use crate::report::section::stops;
use crate::report::teller::Teller;
use crate::report::words;
use crate::units::number;
use crate::words::scale::Scale;
use serde::Serialize;

/// The best lap at one circuit.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Best {
    /// The circuit.
    pub circuit: String,
    /// Its length as typed, with its unit.
    pub length: String,
    /// The lap as typed.
    pub lap: String,
    /// Event and session.
    pub session: String,
    /// When.
    pub date: String,
    /// Who drove.
    pub driver: String,
    /// Conditions, as typed.
    pub conditions: String,
    /// Its line.
    pub src: String,
    /// The best of each other event there: "1:08.42 at quern-1 s2".
    pub others: Vec<String>,
    /// The best there in the last year before that has one: "1:08.90 in 2025 (quern-1 s4), -1.72 s"; else empty.
    pub before: String,
    /// The line of that.
    pub before_src: String,
}

/// A session's best lap as typed; the least of its listed laps otherwise.
pub(in crate::report) fn lap(tell: &Teller<'_>, session: &Session) -> String {
    let Some(best) = session.best else { return words::DASH.to_owned() };
    let line = tell.entry(session.entry).map_or("", |entry| tell.cx.text(entry.span()));
    let mut after = line.split_whitespace().skip_while(|word| !word.eq_ignore_ascii_case("best"));
    if let Some(typed) = after.nth(1) {
        return typed.to_owned();
    }
    words::lap(best, 2)
}

/// The median of a session's listed laps but for those into and out of the pits, min:s, and how many they are.
pub(in crate::report) fn median(tell: &Teller<'_>, session: &Session) -> Option<(String, usize)> {
    let (middle, count) = sessions::median(tell.cx.book, session)?;
    Some((words::lap(middle, 2), count))
}

/// The quickest of some sessions.
pub(in crate::report) fn quickest<'s>(sessions: impl Iterator<Item = &'s Session>) -> Option<&'s Session> {
    sessions
        .filter(|session| session.best.is_some())
        .min_by(|a, b| a.best.unwrap_or(f64::INFINITY).total_cmp(&b.best.unwrap_or(f64::INFINITY)))
}

/// The circuit a session ran on.
pub(in crate::report) fn circuit(tell: &Teller<'_>, session: &Session) -> Option<CircuitId> {
    session.event.and_then(|event| tell.cx.book.events.get(event)).and_then(|event| event.circuit)
}

/// The best lap of each circuit in a year's sessions of a car, in order of first visit.
pub(in crate::report) fn bests(tell: &Teller<'_>, car: CarId, year: i16, sessions: &[&Session]) -> Vec<Best> {
    let mut circuits: Vec<CircuitId> = Vec::new();
    for id in sessions.iter().filter_map(|session| circuit(tell, session)) {
        if !circuits.contains(&id) {
            circuits.push(id);
        }
    }
    circuits
        .into_iter()
        .filter_map(|id| {
            let there = || sessions.iter().copied().filter(move |session| circuit(tell, session) == Some(id));
            let best = quickest(there())?;
            let place = tell.cx.book.circuits.get(id)?;
            let others = stops::events(&there().collect::<Vec<_>>())
                .into_iter()
                .filter(|event| Some(*event) != best.event)
                .filter_map(|event| quickest(there().filter(|session| session.event == Some(event))))
                .map(|session| format!("{} at {}", lap(tell, session), session_name(tell, session)))
                .collect();
            let entry = tell.entry(best.entry);
            let before = before(tell, car, year, id);
            Some(Best {
                circuit: place.named.title.clone(),
                length: place
                    .length
                    .map_or_else(String::new, |metres| Scale::lap_length(tell.cx.book, car, metres)),
                lap: lap(tell, best),
                session: session_name(tell, best),
                date: words::date(best.date),
                driver: entry.and_then(|entry| tell.by(entry.by)).unwrap_or_default().to_owned(),
                conditions: entry.map_or_else(String::new, |entry| tell.conditions(entry).join(", ")),
                src: tell.src_of(best.entry),
                others,
                before: before.map_or_else(String::new, |then| {
                    let change = change(best.best.unwrap_or(0.0) - then.best.unwrap_or(0.0));
                    let lap = lap(tell, then);
                    format!("{lap} in {} ({}), {change}", then.date.year(), session_name(tell, then))
                }),
                before_src: before.map_or_else(String::new, |then| tell.src_of(then.entry)),
            })
        })
        .collect()
}

/// The quickest session at a circuit in the last year before one that has a lap there.
fn before<'a>(tell: &Teller<'a>, car: CarId, year: i16, at: CircuitId) -> Option<&'a Session> {
    let all = || {
        let own = tell.cx.history.sessions.of(car).map(|(_, session)| session);
        own.filter(|one| one.best.is_some() && one.date.year() < year && circuit(tell, one) == Some(at))
    };
    let last = all().map(|session| session.date.year()).max()?;
    quickest(all().filter(|session| session.date.year() == last))
}

/// "-0.72 s", "+1.10 s".
fn change(seconds: f64) -> String {
    format!("{} s", number::signed(seconds, 2))
}

/// "quern-2 s6".
pub(in crate::report) fn session_name(tell: &Teller<'_>, session: &Session) -> String {
    let label = tell.label(session);
    session.event.map_or_else(|| label.to_owned(), |event| format!("{} {label}", tell.event(event)))
}
