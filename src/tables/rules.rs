//! Rules, and every reading that was held to one.

use super::cell::Cell;
use super::schema::{Column, FILE, FactTable, Give, LINE, refers};
use super::shown::Shown;
use crate::answer::rules::view;
use crate::book::model::Local;
use crate::rules::judge::Side;

/// Rules.
pub const TABLE: FactTable = FactTable {
    name: "rules",
    what: "A class rule, or one of a local rulebook.",
    key: &["rule"],
    columns: &[
        Column::text("rule", "The name").needed(),
        Column::text("title", "The words after it"),
        Column::text("class", "The class it is for; empty for a local one that is for every car"),
        Column::text("event", "The event whose rulebook it is from"),
        Column::text("circuit", "The circuit whose rulebook it is from"),
        Column::text("subject", "The quantity or figure that it limits"),
        Column::text("limits", "Its limits in words"),
        Column::date("from_date", "The first day it is in force"),
        Column::date("until_date", "The last day"),
        Column::truth("broken", "One of its lines cannot be read: it is not judged"),
        FILE,
        LINE,
    ],
    refers: &[refers(&["event"], "events"), refers(&["circuit"], "circuits")],
    rows: rules,
};

fn rules(shown: &Shown<'_>, give: &mut Give<'_>) {
    let scrutiny = shown.compiled.context().scrutiny();
    for (id, rule) in shown.compiled.book.rules.iter_enumerated() {
        let (event, circuit) = match rule.local {
            Some(Local::Event(event)) => (Some(event), None),
            Some(Local::Circuit(circuit)) => (None, Some(circuit)),
            None => (None, None),
        };
        let [file, line] = shown.stands(rule.named.declared);
        give(&[
            shown.rule(id),
            shown.title(&rule.named),
            Cell::from(&rule.class),
            shown.event(event),
            shown.circuit(circuit),
            Cell::from(scrutiny.name(rule)),
            if rule.broken { Cell::Nothing } else { Cell::from(scrutiny.limits_text(rule)) },
            Cell::from(rule.from.map(|(day, _)| day)),
            Cell::from(rule.until.map(|(day, _)| day)),
            Cell::from(rule.broken),
            file,
            line,
        ]);
    }
}

/// Verdicts.
pub const VERDICTS: FactTable = FactTable {
    name: "verdicts",
    what: "A reading of a car held to a rule of its class, or of a local rulebook, that was in force on the reading's day.",
    key: &[],
    columns: &[
        Column::text("car", "The car").needed(),
        Column::text("rule", "The rule").needed(),
        Column::text("verdict", "`passes`, `inside-error` (it passes by less than its gauge's error), `fails`, `not-known`, `no-reading`, `other-state` or `unit-unfit`").needed(),
        Column::text("place", "Where on the car; empty for the whole of it"),
        Column::real("value_si", "SI", "The value nearest to the limit"),
        Column::text("side", "Which limit is nearer: `min` or `max`"),
        Column::real("margin_si", "SI", "By how much it passes; below zero it falls short"),
        Column::real("error_si", "SI", "How far off the reading may be for its gauges"),
        Column::text("si_unit", "What those are counted in"),
        Column::text("value", "The value as shown"),
        Column::text("margin", "The margin as shown"),
        Column::text("gauge", "The gauge, where one line read it by one"),
        Column::text("lacks", "The condition that the rule wants and the reading does not state"),
        Column::text("outranked_by", "The local rule that stands in its place there"),
        Column::truth("mended", "Found so and not left so: a later line of its block states it anew"),
        Column::date("date", "The day of the reading"),
        FILE,
        LINE,
    ],
    refers: &[
        refers(&["car"], "cars"),
        refers(&["rule"], "rules"),
        refers(&["outranked_by"], "rules"),
    ],
    rows: verdicts,
};

fn verdicts(shown: &Shown<'_>, give: &mut Give<'_>) {
    let compiled = shown.compiled;
    let scrutiny = compiled.context().scrutiny();
    if compiled.book.rules.is_empty() {
        return;
    }
    for (id, car) in compiled.book.cars.iter_enumerated() {
        let name = shown.car(id);
        if name.is_nothing() {
            continue;
        }
        for judged in scrutiny.judged(id, &car.class) {
            let view = view(compiled, &scrutiny, &judged);
            let kind = judged.margin.map(|margin| margin.value.dimension);
            let [file, line] = match view.line {
                Some(line) => [Cell::from(line.path), Cell::from(line.line)],
                None => [Cell::Nothing, Cell::Nothing],
            };
            let amount = |amount: &Option<crate::answer::rules::RuleAmount>| {
                Cell::from(amount.as_ref().map(|one| one.value_si))
            };
            let gauge = judged.reading.as_ref().and_then(|reading| compiled.book.entries.get(reading.entry?));
            let gauge = gauge.map_or(Cell::Nothing, |entry| shown.by_gauge(entry.by));
            let (value_si, margin_si, error_si) =
                (amount(&view.value), amount(&view.margin), amount(&view.error));
            give(&[
                name.clone(),
                shown.rule(judged.rule),
                Cell::from(view.verdict),
                Cell::from(view.place),
                value_si,
                Cell::from(view.side.map(|side| match side {
                    Side::Min => "min",
                    Side::Max => "max",
                })),
                margin_si,
                error_si,
                kind.map_or(Cell::Nothing, |kind| shown.si(kind, None)),
                Cell::from(view.value.map(|one| one.text)),
                Cell::from(view.margin.map(|one| one.text)),
                gauge,
                Cell::from(view.lacks),
                shown.rule(judged.outranked),
                Cell::from(view.mended),
                Cell::from(judged.reading.as_ref().and_then(|reading| reading.date)),
                file,
                line,
            ]);
        }
    }
}
