//! How the car was set when it left each circuit last.
//!
//! Must not know how a table is laid out.

use crate::book::model::{CarId, CircuitId, EventId};
use crate::history::diff::same;
use crate::history::order::Rank;
use crate::history::{likeness, moment};
use crate::report::section::bests;
use crate::report::section::problems::Problems;
use crate::report::section::setup::{self, Area, Tag};
use crate::report::section::stops;
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;
use std::collections::BTreeSet;

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
    /// The event that it is held against: only what was otherwise there stands in it; empty for the one that stands whole.
    pub against: String,
    /// How many lines are the same there, or read the same within what their gauges tell apart.
    pub same: usize,
    /// The setup.
    pub areas: Vec<Area>,
}

/// The last event at each circuit, the one it left last in front and whole, of the others what differs from it.
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
    let mut left: Vec<(Rank, CircuitId, EventId)> = circuits
        .into_iter()
        .filter_map(|(circuit, id)| {
            let (_, last) = moment::span(cx.book, cx.history, car, id)?;
            Some((last.next().min(until), circuit, id))
        })
        .collect();
    // The one it left last stands whole; the others are held against it.
    left.sort_by_key(|(rank, ..)| std::cmp::Reverse(*rank));
    let base = left.first().copied();
    left.into_iter()
        .filter_map(|(rank, circuit, id)| {
            let place = cx.book.circuits.get(circuit)?;
            let event = cx.book.events.get(id)?;
            let there =
                sessions.iter().copied().filter(|session| bests::circuit(tell, session) == Some(circuit));
            let best = bests::quickest(there);
            let mut areas = setup::areas(tell, car, rank, &Problems::default());
            let mut same = 0;
            let other = base.filter(|(.., base)| *base != id);
            if let Some((base, ..)) = other {
                let differs = differing(tell, car, base, rank);
                let count = |areas: &[Area]| areas.iter().map(|area| area.rows.len()).sum::<usize>();
                let all = count(&areas);
                for area in &mut areas {
                    area.rows.retain(|row| differs.contains(&row.name));
                }
                areas.retain(|area| !area.rows.is_empty());
                same = all - count(&areas);
            }
            Some(CircuitSetup {
                circuit: place.named.title.clone(),
                event: format!("{}, {}", event.named.typed, event.named.title),
                dates: words::dates(event.first, event.last),
                best: best.map_or_else(String::new, |best| {
                    format!("{}, {}", bests::lap(tell, best), bests::session_name(tell, best))
                }),
                against: other.map_or_else(String::new, |(.., base)| tell.event(base).to_owned()),
                same,
                areas,
            })
        })
        .collect()
}

/// The names of what was otherwise before one rank than before another, at any place of the car: set otherwise, read otherwise by more than
/// the two gauges leave open, not in the book at one of them, or not known.
fn differing(tell: &Teller<'_>, car: CarId, one: Rank, other: Rank) -> BTreeSet<String> {
    let cx = &tell.cx;
    let (a, b) = (cx.on(car, one).slots(), cx.on(car, other).slots());
    let mut names = BTreeSet::new();
    let mut add = |quantity| names.insert(cx.quantity(quantity).name.replace('-', " "));
    for slot in &b {
        let held = a.iter().find(|held| held.quantity == slot.quantity && held.place == slot.place);
        let held = held.filter(|held| likeness::of_one_part(cx.book, slot.quantity, held.part, slot.part));
        let alike = held.is_some_and(|held| match (held.held.is(cx.history), slot.held.is(cx.history)) {
            (Some(then), Some(now)) => same(cx.facts, (then, held.track), (now, slot.track)),
            _ => false,
        });
        if !alike {
            add(slot.quantity);
        }
    }
    for slot in &a {
        if !b.iter().any(|held| held.quantity == slot.quantity && held.place == slot.place) {
            add(slot.quantity);
        }
    }
    let (tags_a, tags_b) = (setup::tags(tell, car, one, &a), setup::tags(tell, car, other, &b));
    for (here, there) in [(&tags_a, &tags_b), (&tags_b, &tags_a)] {
        for tag in here {
            let alike = |held: &Tag| {
                held.quantity == tag.quantity && held.place == tag.place && held.value == tag.value
            };
            if !there.iter().any(alike) {
                add(tag.quantity);
            }
        }
    }
    names
}
