//! Sessions, what they were made of, and their laps.

use super::cell::Cell;
use super::schema::{Column, FILE, FactTable, Give, LINE, refers};
use super::shown::Shown;
use crate::book::entry::{EntryId, Head, RunId, Verb};
use crate::words;
use rustc_hash::FxHashMap;

/// Sessions.
pub const SESSIONS: FactTable = FactTable {
    name: "sessions",
    what: "A session of a car: a `run` line.",
    key: &["session"],
    columns: &[
        Column::whole("session", "Its number, in the order the sessions were run").needed(),
        Column::text("car", "The car").needed(),
        Column::text("event", "The event, where its block names one"),
        Column::text("label", "What it is called"),
        Column::date("date", "The day it began"),
        Column::date("last_date", "The day it ended: the next one where it went past midnight"),
        Column::text("start", "When it began, `HH:MM` by the event's clock, where typed"),
        Column::text("end", "When it ended, likewise"),
        Column::real("minutes", "min", "Running time; empty where not all of it is known"),
        Column::real(
            "minutes_least",
            "min",
            "What of it is known: of stages those of the stages, without the road",
        ),
        Column::real("km", "km", "Driven, at speed and on the road; empty where not all of it is known"),
        Column::real("timed_km", "km", "Driven at speed"),
        Column::whole("laps", "Laps, typed or counted"),
        Column::whole("starts", "Standing starts, where typed"),
        Column::whole("heat_cycles", "Heat cycles of its tyres").needed(),
        Column::real("best_s", "s", "The best lap, typed or the least of those listed that count"),
        Column::text("driver", "Who drove all of it"),
        Column::text("conditions", "What is said after `with`"),
        FILE,
        LINE,
    ],
    refers: &[refers(&["car"], "cars"), refers(&["event"], "events"), refers(&["driver"], "people")],
    rows: sessions,
};

/// Minutes of the day as `HH:MM`.
fn clock<'a>(minutes: i16) -> Cell<'a> {
    Cell::from((minutes >= 0).then(|| words::clock(minutes)))
}

/// What is said after `with`, as typed.
pub(super) fn conditions<'a>(shown: &Shown<'a>, entry: EntryId) -> Cell<'a> {
    let book = &shown.compiled.book;
    let extra = book.entries.get(entry).and_then(|entry| book.extra(entry));
    let conditions = extra.map_or(&[][..], |extra| extra.conditions.as_slice());
    match conditions {
        [] => Cell::Nothing,
        [one] => Cell::from(shown.compiled.files.text(one.said)),
        all => {
            let said = all.iter().map(|one| shown.compiled.files.text(one.said));
            Cell::from(said.collect::<Vec<_>>().join(", "))
        }
    }
}

fn sessions(shown: &Shown<'_>, give: &mut Give<'_>) {
    let compiled = shown.compiled;
    for (number, _, session) in shown.all_sessions() {
        let [file, line] = shown.line(session.entry);
        let clocks = compiled.book.entries.get(session.entry).map_or((-1, -1), |entry| entry.clock);
        let head = compiled.book.entries.get(session.entry).and_then(|entry| compiled.book.head(entry));
        let dated = head.is_some_and(Head::is_dated);
        give(&[
            Cell::from(number),
            shown.car(session.car),
            shown.event(session.event),
            shown.words(session.label),
            Cell::from(Some(session.date).filter(|_| dated)),
            Cell::from(Some(session.last).filter(|_| dated)),
            clock(clocks.0),
            clock(clocks.1),
            Cell::from(session.all_minutes()),
            Cell::from(
                Some(session.least_minutes()).filter(|least| session.minutes.is_some() || *least > 0.0),
            ),
            Cell::from(session.driven().map(|metres| metres / 1000.0)),
            Cell::from(session.distance.map(|metres| metres / 1000.0)),
            Cell::from(session.laps),
            Cell::from(session.launches),
            Cell::from(session.heat_cycles),
            Cell::from(session.best),
            shown.person(session.driver),
            conditions(shown, session.entry),
            file,
            line,
        ]);
    }
}

/// Stints, stages and stops.
pub const STINTS: FactTable = FactTable {
    name: "stints",
    what: "A stint, stage or stop of a session that is divided into such. One that is not has no row: its driver stands with it.",
    key: &[],
    columns: &[
        Column::whole("session", "The session").needed(),
        Column::whole("number", "Which of the session's, from 1").needed(),
        Column::text("sort", "`stint`, `stage` or `stop`").needed(),
        Column::text("label", "What a stage is called"),
        Column::text("driver", "Who drove"),
        Column::real("minutes", "min", "How long, typed, by its times, or what the others leave"),
        Column::whole("laps", "Laps typed"),
        Column::real("best_s", "s", "The best lap typed"),
        Column::real("km", "km", "The length of a stage"),
        Column::real("road_km", "km", "The road to it"),
        FILE,
        LINE,
    ],
    refers: &[refers(&["session"], "sessions"), refers(&["driver"], "people")],
    rows: stints,
};

fn stints(shown: &Shown<'_>, give: &mut Give<'_>) {
    for (number, id, _) in shown.all_sessions() {
        for (index, part) in shown.compiled.history.sessions.parts(id).iter().enumerate() {
            if !shown.may_read(part.entry) {
                continue;
            }
            let [file, line] = shown.line(part.entry);
            give(&[
                Cell::from(number),
                Cell::from(index as u32 + 1),
                Cell::from(part.verb.word()),
                shown.words(part.label),
                shown.person(part.driver),
                Cell::from(part.minutes),
                Cell::from(part.laps),
                Cell::from(part.best),
                Cell::from(part.distance.map(|metres| metres / 1000.0)),
                Cell::from(Some(part.road / 1000.0).filter(|road| *road > 0.0)),
                file,
                line,
            ]);
        }
    }
}

/// Laps.
pub const LAPS: FactTable = FactTable {
    name: "laps",
    what: "A lap of a `laps` line.",
    key: &[],
    columns: &[
        Column::whole("session", "The session").needed(),
        Column::whole("lap", "Its number in the list, from 1").needed(),
        Column::real("seconds", "s", "Its time; empty for a lap of no time"),
        Column::truth("counts", "0 for a lap out of or into the pits, or under a yellow: no time to compare"),
        FILE,
        LINE,
    ],
    refers: &[refers(&["session"], "sessions")],
    rows: laps,
};

fn laps(shown: &Shown<'_>, give: &mut Give<'_>) {
    let book = &shown.compiled.book;
    let listed = book.entries.iter_enumerated().filter(|(_, entry)| entry.verb == Verb::Laps && !entry.void);
    let lists: FxHashMap<RunId, EntryId> =
        listed.filter_map(|(id, entry)| Some((entry.run()?, id))).collect();
    for (number, _, session) in shown.all_sessions() {
        let Some(run) = book.runs.get(session.run) else { continue };
        let list = lists.get(&session.run).copied().filter(|list| shown.may_read(*list));
        for (index, (seconds, slow)) in run.times.iter().enumerate() {
            let [file, line] = shown.line(list.unwrap_or(session.entry));
            give(&[
                Cell::from(number),
                Cell::from(index as u32 + 1),
                Cell::from(Some(*seconds).filter(|seconds| *seconds > 0.0)),
                Cell::from(!slow),
                file,
                line,
            ]);
        }
    }
}
