//! How a season's numbers came about: what is counted, on which circuits' lengths, with which gauges, and what was not used.
//!
//! Must not know any figure.

use super::bests;
use super::totals::Totals;
use crate::book::entry::{By, Entry};
use crate::book::model::{CarId, CircuitId, GaugeId};
use crate::history::sessions::Session;
use crate::report::section::fact::Fact;
use crate::report::sources;
use crate::report::teller::Teller;
use crate::report::words;
use crate::words::scale::Scale;
use std::collections::BTreeMap;

/// The footnotes of a car's year, and the gauges that its lines were read with.
pub(super) fn notes(
    tell: &Teller<'_>,
    car: CarId,
    year: i16,
    sessions: &[&Session],
    totals: &Totals,
) -> (Vec<Fact>, Vec<Fact>) {
    let fact = |word: &str, text: String, src: String| Fact { word: word.to_owned(), text, src };
    let mut notes = Vec::new();
    if !sessions.is_empty() {
        notes.push(fact("sums", "added up from the sessions' lines".to_owned(), totals.src.clone()));
        notes.push(fact("day", "a calendar date with at least one session".to_owned(), String::new()));
        notes.push(fact(
            "minutes",
            "running minutes, as typed with each session, else from its clock times".to_owned(),
            String::new(),
        ));
        notes.push(fact(
            "distance",
            "as typed with a session, else its laps by the length of the circuit".to_owned(),
            String::new(),
        ));
    }
    let mut circuits: Vec<CircuitId> = sessions.iter().filter_map(|one| bests::circuit(tell, one)).collect();
    circuits.sort_unstable();
    circuits.dedup();
    for circuit in circuits.into_iter().filter_map(|id| tell.cx.book.circuits.get(id)) {
        if let Some(metres) = circuit.length {
            let text = format!("{}, {}", circuit.named.title, Scale::lap_length(tell.cx.book, car, metres));
            notes.push(fact("a lap", text, tell.src(circuit.named.declared)));
        }
    }
    let lines = || {
        let heads = tell.cx.book.heads_of(car).filter(move |head| head.date.year() == year);
        let lines = heads.flat_map(crate::book::entry::Head::lines).filter_map(|index| tell.entry(index));
        lines.filter(|entry| !entry.withheld && !entry.broken)
    };
    let mut used: BTreeMap<GaugeId, usize> = BTreeMap::new();
    for entry in lines().filter(|entry| !entry.void) {
        if let By::Gauge(gauge) = entry.by {
            *used.entry(gauge).or_default() += 1;
        }
    }
    let mut gauges = Vec::new();
    for (id, count) in used {
        let Some(gauge) = tell.cx.book.gauges.get(id) else { continue };
        let declared = gauge.named.declared;
        let reads_to = gauge.resolution.map_or_else(
            || "the book does not say how finely it reads".to_owned(),
            |item| {
                format!("reads to {} {}", tell.cx.text(item.span(declared.file)), item.unit().get().shown())
            },
        );
        let count = words::count(count, "line", "lines");
        let text = format!("{reads_to}; {count} by it");
        gauges.push(fact(&gauge.named.title, text, tell.src(declared)));
    }
    let void: Vec<&Entry> = lines().filter(|entry| entry.void).collect();
    if !void.is_empty() {
        let text = format!("{} kept and not used", words::count(void.len(), "reading", "readings"));
        notes.push(fact("void", text, sources::lines(tell.cx.files, void.iter().map(|entry| entry.span()))));
    }
    (notes, gauges)
}
