//! Clients, people and gauges.

use super::cell::Cell;
use super::schema::{Column, FILE, FactTable, Give, LINE, refers};
use super::shown::Shown;
use crate::book::names::Thing;

/// Who pays.
pub const CLIENTS: FactTable = FactTable {
    name: "clients",
    what: "A client.",
    key: &["client"],
    columns: &[
        Column::text("client", "The name").needed(),
        Column::text("title", "The words after it"),
        Column::truth("unbilled", "Hours are counted and not charged: the shop's own cars"),
        FILE,
        LINE,
    ],
    refers: &[],
    rows: clients,
};

fn clients(shown: &Shown<'_>, give: &mut Give<'_>) {
    for (id, client) in shown.compiled.book.clients.iter_enumerated() {
        let name = shown.client(id);
        if name.is_nothing() {
            continue;
        }
        let [file, line] = shown.stands(client.named.declared);
        give(&[name, shown.title(&client.named), Cell::from(client.unbilled), file, line]);
    }
}

/// Who may stand after `by`.
pub const PEOPLE: FactTable = FactTable {
    name: "people",
    what: "Somebody who may stand after `by`: a person, or a client at the wheel. A reader has those who drove or read on lines of his.",
    key: &["person"],
    columns: &[
        Column::text("person", "The name").needed(),
        Column::text("title", "The words after it"),
        Column::text("client", "The client that he is"),
        FILE,
        LINE,
    ],
    refers: &[refers(&["client"], "clients")],
    rows: people,
};

fn people(shown: &Shown<'_>, give: &mut Give<'_>) {
    let names = &shown.compiled.book.names;
    for (id, person) in shown.compiled.book.people.iter_enumerated() {
        let name = shown.person(id);
        if name.is_nothing() {
            continue;
        }
        let client = match names.find(&person.named.name) {
            Some(Thing::Client(client)) => shown.client(client),
            _ => Cell::Nothing,
        };
        let [file, line] = shown.stands(person.named.declared);
        give(&[name, shown.title(&person.named), client, file, line]);
    }
}

/// What reads.
pub const GAUGES: FactTable = FactTable {
    name: "gauges",
    what: "A gauge.",
    key: &["gauge"],
    columns: &[
        Column::text("gauge", "The name").needed(),
        Column::text("title", "The words after it"),
        Column::text("resolution", "Its divisions, as typed, without the unit"),
        Column::text("unit", "The unit typed"),
        Column::real("resolution_si", "SI", "The same, as a difference"),
        Column::text("si_unit", "What that is counted in"),
        Column::date("valid_until", "The last day it may be trusted"),
        FILE,
        LINE,
    ],
    refers: &[],
    rows: gauges,
};

fn gauges(shown: &Shown<'_>, give: &mut Give<'_>) {
    for (id, gauge) in shown.compiled.book.gauges.iter_enumerated() {
        let [file, line] = shown.stands(gauge.named.declared);
        let division = gauge.resolution.filter(crate::book::entry::Item::has_value);
        let unit = division.map(|item| item.unit());
        let typed = division.map(|item| shown.compiled.files.text(item.span(gauge.named.declared.file)));
        let si = division.zip(unit).map(|(item, unit)| {
            let unit = unit.get();
            unit.difference_to_si(unit.from_si(item.si))
        });
        give(&[
            shown.gauge(id),
            shown.title(&gauge.named),
            Cell::from(typed),
            Cell::from(unit.map(|unit| unit.get().shown())),
            Cell::from(si),
            unit.map_or(Cell::Nothing, |unit| Cell::from(crate::units::si(unit.get().kind))),
            Cell::from(gauge.valid_until),
            file,
            line,
        ]);
    }
}
