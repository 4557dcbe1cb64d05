//! How the car was set when it left each circuit last.
//!
//! Must not know how a table is laid out.

use crate::book::model::{CarId, CircuitId, EventId};
use crate::history::moment;
use crate::history::order::Rank;
use crate::report::section::bests;
use crate::report::section::problems::Problems;
use crate::report::section::setup::{self, Area};
use crate::report::section::stops;
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;

/// A setup as it left a circuit.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct CircuitSetup {
    /// The circuit.
    pub circuit: String,
    /// The event it left: "quern-2, Quern Park, September".
    pub event: String,
    /// Its dates.
    pub dates: String,
    /// The best lap there, with its session; empty where none was written down.
    pub best: String,
    /// The setup.
    pub areas: Vec<Area>,
}

/// The last event at each circuit, in order of first visit.
pub(super) fn view(tell: &Teller<'_>, car: CarId, until: Rank) -> Vec<CircuitSetup> {
    let cx = &tell.cx;
    let sessions: Vec<_> = cx.history.sessions.of(car).map(|(_, session)| session).collect();
    let mut circuits: Vec<(CircuitId, EventId)> = Vec::new();
    for event in stops::events(&sessions) {
        let Some(circuit) = cx.book.events.get(event).and_then(|event| event.circuit) else {
            continue;
        };
        match circuits.iter_mut().find(|(known, _)| *known == circuit) {
            Some((_, last)) => *last = event,
            None => circuits.push((circuit, event)),
        }
    }
    circuits
        .into_iter()
        .filter_map(|(circuit, id)| {
            let place = cx.book.circuits.get(circuit)?;
            let event = cx.book.events.get(id)?;
            let (_, last) = moment::span(cx.book, cx.history, car, id)?;
            let there =
                sessions.iter().copied().filter(|session| bests::circuit(tell, session) == Some(circuit));
            let best = bests::quickest(there);
            Some(CircuitSetup {
                circuit: place.named.title.clone(),
                event: format!("{}, {}", event.named.typed, event.named.title),
                dates: words::dates(event.first, event.last),
                best: best.map_or_else(String::new, |best| {
                    format!("{}, {}", bests::lap(tell, best), bests::session_name(tell, best))
                }),
                areas: setup::areas(tell, car, (last.next()).min(until), &Problems::default()),
            })
        })
        .collect()
}
