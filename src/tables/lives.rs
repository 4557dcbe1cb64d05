//! Lives of parts, and the lines that say that one failed.

use super::cell::Cell;
use super::schema::{Column, FILE, FactTable, Give, LINE, refers};
use super::sessions::conditions;
use super::shown::Shown;
use crate::answer::lives::row;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::{Clock, PartId};
use crate::history::order::Rank;
use crate::lives::{Life, life, lives};

/// Lives.
pub const TABLE: FactTable = FactTable {
    name: "lives",
    what: "A life of a part: from new or from a rebuild to a failure, the next rebuild, or the end of the book. What it ran before the \
           book is in it, where that is known.",
    key: &[],
    columns: &[
        Column::text("part", "The part").needed(),
        Column::whole("number", "1 from new, 2 after the first rebuild").needed(),
        Column::text("kind", "What it is"),
        Column::text("spec", "Its spec"),
        Column::text("end", "`running`, `sold` (while running), `good`, `rebuilt`, `failed`, `unused`, `unmended` (it ran on after a failure), or `unknown`: a line with a mistake may have fitted it").needed(),
        Column::text("end_words", "The same in words").needed(),
        Column::date("from_date", "The day it first went on a car in this life"),
        Column::date("until_date", "The day it ended; empty while it may still run"),
        Column::real("minutes", "min", "Running time; empty where not all of it is known"),
        Column::real("minutes_least", "min", "What of it is known"),
        Column::real("km", "km", "Driven, at speed and on the road, likewise"),
        Column::real("km_least", "km", "What of it is known"),
        Column::real("timed_km", "km", "Driven at speed, where all of it is known"),
        Column::real("laps", "laps", "Laps, where all are known"),
        Column::real("starts", "starts", "Standing starts, likewise"),
        Column::real("sessions", "sessions", "Sessions, likewise"),
        Column::real("days", "days", "Days with a session, likewise"),
        Column::real("events", "events", "Events, likewise"),
        Column::real("heat_cycles", "heat cycles", "Heat cycles, likewise"),
        Column::truth("came_used", "It came to the shop used: such parts are only seen because they lived that long"),
        Column::text("mode", "How the failure showed, as typed"),
        Column::text("mechanism", "The physics of it"),
        Column::text("cause", "Why"),
        Column::text("found_by", "How it was found"),
        FILE,
        LINE,
    ],
    refers: &[refers(&["part"], "parts"), refers(&["kind"], "kinds"), refers(&["kind", "spec"], "specs")],
    rows,
};

fn rows(shown: &Shown<'_>, give: &mut Give<'_>) {
    let compiled = shown.compiled;
    let all = lives(&compiled.book, &compiled.history, Rank::END);
    for part in compiled.book.parts.keys().filter(|part| !shown.part(*part).is_nothing()) {
        let until = shown.until(part);
        if until == Rank::END {
            for life in all.of_part(part) {
                of_life(shown, life, give);
            }
        } else {
            for life in &life::of(&compiled.book, &compiled.history, part, until) {
                of_life(shown, life, give);
            }
        }
    }
}

/// Whether every line about a part is the reader's: then its lives have days, and a line each.
fn is_all_his(shown: &Shown<'_>, part: PartId) -> bool {
    let told = shown.compiled.history.parts.get(part);
    !shown.is_cut()
        || told
            .lines
            .iter()
            .chain(told.stays.iter().map(|stay| &stay.entry))
            .all(|line| shown.may_read(*line))
}

fn of_life(shown: &Shown<'_>, life: &Life, give: &mut Give<'_>) {
    let compiled = shown.compiled;
    let book = &compiled.book;
    let Some(part) = book.parts.get(life.part) else { return };
    let told = row(compiled, life, Clock::Time);
    let his = is_all_his(shown, life.part);
    let on = |clock: Clock, unit: f64| {
        let lived = life.on(book, clock);
        let least = lived.value / unit;
        [Cell::from(Some(least).filter(|_| !lived.at_least)), Cell::from(least)]
    };
    let count = |clock: Clock| {
        let [known, _] = on(clock, 1.0);
        known
    };
    let ([minutes, minutes_least], [km, km_least]) = (on(Clock::Time, 60.0), on(Clock::Distance, 1000.0));
    let [timed, _] = on(Clock::StageDistance, 1000.0);
    let [file, line] = if his {
        [Cell::from(told.line.path), Cell::from(told.line.line)]
    } else {
        shown.stands(part.named.declared)
    };
    give(&[
        shown.part(life.part),
        Cell::from(life.number),
        shown.kind(part.kind),
        if part.kind.is_some() { shown.spec(life.spec) } else { Cell::Nothing },
        Cell::from(told.end),
        Cell::from(told.end_words),
        Cell::from(life.first.filter(|_| his)),
        Cell::from(life.ended.filter(|_| his)),
        minutes,
        minutes_least,
        km,
        km_least,
        timed,
        count(Clock::Laps),
        count(Clock::Launches),
        count(Clock::Sessions),
        count(Clock::Days),
        count(Clock::Events),
        count(Clock::HeatCycles),
        Cell::from(life.came_used),
        Cell::from(told.mode),
        Cell::from(told.mechanism),
        Cell::from(told.cause),
        Cell::from(told.found_by),
        file,
        line,
    ]);
}

/// Failures.
pub const FAILURES: FactTable = FactTable {
    name: "failures",
    what: "A line that says that a part failed, or that a car was hit.",
    key: &[],
    columns: &[
        Column::text("sort", "`failed` or `hit`").needed(),
        Column::text("part", "The part; empty for an impact"),
        Column::text("car", "The car"),
        Column::text("place", "Where on it"),
        Column::text("event", "The event of its block"),
        Column::whole("session", "The session it stands under or names"),
        Column::whole("lap", "The lap, where said"),
        Column::date("date", "The day"),
        Column::text("mode", "How it showed, as typed"),
        Column::text("mechanism", "The physics of it"),
        Column::text("cause", "Why"),
        Column::text("found_by", "How it was found"),
        Column::text("words", "The words in quotes"),
        Column::text("conditions", "What is said after `with`"),
        FILE,
        LINE,
    ],
    refers: &[
        refers(&["part"], "parts"),
        refers(&["car"], "cars"),
        refers(&["event"], "events"),
        refers(&["session"], "sessions"),
    ],
    rows: failures,
};

fn failures(shown: &Shown<'_>, give: &mut Give<'_>) {
    let (book, history) = (&shown.compiled.book, &shown.compiled.history);
    let mut all: Vec<(EntryId, Option<PartId>)> = Vec::new();
    for part in book.parts.keys().filter(|part| !shown.part(*part).is_nothing()) {
        all.extend(history.parts.get(part).failures.iter().map(|failure| (*failure, Some(part))));
    }
    let hits = book
        .entries
        .iter_enumerated()
        .filter(|(_, line)| line.verb == Verb::Hit && !(line.broken || line.void));
    all.extend(hits.map(|(id, _)| (id, None)));
    all.sort_unstable();
    for (id, part) in all {
        let Some(entry) = book.entries.get(id).filter(|entry| !entry.withheld) else { continue };
        let head = book.head(entry);
        let extra = book.extra(entry);
        let told = extra.and_then(|extra| extra.failure.as_deref()).copied().unwrap_or_default();
        let facts = extra.and_then(|extra| extra.parts.as_deref());
        let words = extra.and_then(|extra| extra.words.first()).copied();
        let car = facts.and_then(|facts| facts.car).or(head.and_then(|head| head.car));
        let [file, line] = shown.line(id);
        give(&[
            Cell::from(if part.is_some() { "failed" } else { "hit" }),
            shown.part(part),
            shown.car(car),
            facts.and_then(|facts| facts.place).map_or(Cell::Nothing, |place| shown.place(place)),
            shown.event(head.and_then(|head| head.event)),
            shown.session_of(history.during(book, id)),
            Cell::from(extra.and_then(|extra| extra.lap)),
            shown.day(id),
            shown.words(told.mode),
            shown.words(told.mechanism),
            shown.words(told.cause),
            shown.words(told.found_by),
            shown.words(words),
            conditions(shown, id),
            file,
            line,
        ]);
    }
}
