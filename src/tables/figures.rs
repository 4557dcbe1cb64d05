//! Derived numbers: every figure that can be had of a car, at the end of the book and, where asked for, as it left each event.

use super::cell::Cell;
use super::schema::{Column, FactTable, Give, refers};
use super::shown::Shown;
use crate::book::figure::Sites;
use crate::book::model::CarId;
use crate::figures::Calc;
use crate::figures::trace::{cautions, told};
use crate::history::moment::{self, Moment, Which};
use rayon::prelude::*;
use std::collections::BTreeSet;

/// Figures.
pub const TABLE: FactTable = FactTable {
    name: "figures",
    what: "A derived number of a car at the end of the book or, with `--each-event`, as it left an event; `trace` says how it came about. What leans on nothing \
           typed is left out. Figures of parts on the bench are not here.",
    key: &[],
    columns: &[
        Column::text("car", "The car").needed(),
        Column::text("moment", "`left` an event, or the `end` of the book").needed(),
        Column::text("event", "The event that it left"),
        Column::text("figure", "The figure").needed(),
        Column::text("place", "Where on the car; empty for the whole of it"),
        Column::real("value_si", "SI", "The number").needed(),
        Column::text("si_unit", "What the SI numbers of the row are counted in"),
        Column::real("u_si", "SI", "Its standard uncertainty, where what it leans on has one (JCGM 100)"),
        Column::real(
            "half_si",
            "SI",
            "By how much it may be off, either way, if everything read for it is off by a step of its gauge and every comparison by what it leaves open, to first order",
        ),
        Column::real("value", "unit", "The same number in the unit shown").needed(),
        Column::text("unit", "The unit shown"),
        Column::text("shown", "The same as it is shown").needed(),
        Column::text("status", "`measured`, `stated`, `tag`, `derived`, `inferred` or `assumed`").needed(),
        Column::truth("stale", "A change since makes a reading under it out of date"),
        Column::text("careful", "What a reader must be told beside it"),
        Column::text("lines", "The lines that it leans on, each as `file:line`, with blanks between"),
    ],
    refers: &[refers(&["car"], "cars"), refers(&["event"], "events")],
    rows,
};

/// So many moments are worked out at a time: the same on any machine.
const AT_A_TIME: usize = 64;

/// The moments of a car: the end of the book and, where asked for, as it left each event that it ran at.
fn moments(shown: &Shown<'_>, car: CarId) -> Vec<Moment> {
    let (book, history) = (&shown.compiled.book, &shown.compiled.history);
    let mut events: Vec<_> = Vec::new();
    for (id, session) in history.sessions.of(car).filter(|_| shown.each_event) {
        if let Some(event) =
            session.event.filter(|event| shown.session(id).is_some() && !events.contains(event))
        {
            events.push(event);
        }
    }
    let left = |event| {
        let (_, last) = moment::span(book, history, car, event)?;
        Some(Moment { rank: last.next(), which: Which::Left(event), event: Some(event), session: None })
    };
    events.into_iter().filter_map(left).chain([moment::end(history)]).collect()
}

fn rows(shown: &Shown<'_>, give: &mut Give<'_>) {
    let cars = shown.compiled.book.cars.keys().filter(|car| !shown.car(*car).is_nothing());
    let all: Vec<(CarId, Moment)> =
        cars.flat_map(|car| moments(shown, car).into_iter().map(move |moment| (car, moment))).collect();
    for some in all.chunks(AT_A_TIME) {
        let made: Vec<Vec<Vec<Cell<'_>>>> =
            some.par_iter().map(|(car, moment)| of_moment(shown, *car, moment)).collect();
        for row in made.iter().flatten() {
            give(row);
        }
    }
}

fn of_moment<'s>(shown: &'s Shown<'_>, car: CarId, moment: &Moment) -> Vec<Vec<Cell<'s>>> {
    let compiled = shown.compiled;
    let Some(declared) = compiled.book.cars.get(car) else { return Vec::new() };
    let scrutiny = compiled.context().scrutiny();
    let mut calc = Calc::new(compiled.facts(), car, moment);
    let mut rows = Vec::new();
    for (id, figure) in compiled.book.figures.listed().filter(|(_, figure)| figure.sites != Sites::Part) {
        for place in figure.sites.of_car(declared.cylinders, declared.gears) {
            let Ok(fig) = calc.figure(id, place) else { continue };
            let lines: BTreeSet<(String, u32)> = fig
                .typed()
                .map(|span| (compiled.files.path(span.file).to_owned(), compiled.files.line(span)))
                .collect();
            if lines.is_empty() || !fig.value.is_finite() {
                continue;
            }
            let step = told(&calc, &fig, declared.imperial);
            let (half, ..) = scrutiny.error(&calc, &fig);
            let kind = calc.nodes.get(fig.node).map(|node| (node.dimension, node.unit));
            let lines: Vec<String> =
                lines.iter().map(|(path, line)| crate::words::place(path, *line)).collect();
            rows.push(vec![
                shown.car(car),
                Cell::from(if moment.event.is_some() { "left" } else { "end" }),
                shown.event(moment.event),
                Cell::from(figure.name.to_string()),
                Cell::from(compiled.book.place_word(place)),
                Cell::from(fig.value),
                kind.map_or(Cell::Nothing, |(kind, unit)| shown.si(kind, unit)),
                Cell::from(step.u_si),
                Cell::from(Some(half).filter(|half| *half > 0.0)),
                Cell::from(step.value),
                Cell::from(step.unit),
                Cell::from(step.shown),
                Cell::from(step.status.word()),
                Cell::from(fig.stale.is_some()),
                Cell::from(cautions(&calc, fig.node).join("; ")),
                Cell::from(lines.join(" ")),
            ]);
        }
    }
    rows
}
