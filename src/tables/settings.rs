//! Settings over time: every value of every slot, from which line until which.
//!
//! A slot has two registers: what was asked for, and what was read. A value stands until the next of its register; a line with an error
//! makes both unknown.

use super::cell::Cell;
use super::schema::{Column, FILE, FactTable, Give, LINE, refers};
use super::shown::Shown;
use crate::answer::value::typed_and_si;
use crate::book::entry::EntryId;
use crate::history::slots::{Owner, Register, SlotEvent, Track};
use crate::source::Span;

/// Settings.
pub const TABLE: FactTable = FactTable {
    name: "settings",
    what: "A value of a setting or reading of a car, or of a part that carries its own, and how long it stood: until the next that was \
           asked for, or the next that was read. What a car was at a moment is the later of the two.",
    key: &[],
    columns: &[
        Column::text("car", "The car; empty for what travels with a part"),
        Column::text("part", "The part that it travels with"),
        Column::text("quantity", "What it is").needed(),
        Column::text("place", "Where; empty for the whole of it"),
        Column::text(
            "register",
            "`asked`, `read`, or `unknown`: from here nobody knows, for an error or a dispute",
        )
        .needed(),
        Column::text("verb", "The verb of its line; `car` for what the car is declared with"),
        Column::text("typed", "As typed, without the unit: of `adjust` the change"),
        Column::text("unit", "The unit typed"),
        Column::real(
            "value_si",
            "SI",
            "What it then is: of `adjust` what the changes come to, of repeats the mean, of teeth their ratio",
        ),
        Column::text("si_unit", "What that is counted in"),
        Column::text(
            "clicks_from",
            "`full-hard` or `full-soft`: the end that clicks are counted from, where the book says it",
        ),
        Column::date("from_date", "The day from which it stands; empty for what the car is declared with"),
        Column::whole("from_session", "The first session of the car that it was true of"),
        FILE,
        LINE,
        Column::truth("stands", "1: it stands at the end of the book; 0: a later value has taken its place"),
        Column::date("until_date", "The day on which the next value took its place"),
        Column::whole("until_session", "The first session of the car that it was no longer true of"),
        Column::text("until_file", "The ledger of the next value"),
        Column::whole("until_line", "Its line"),
    ],
    refers: &[
        refers(&["car"], "cars"),
        refers(&["part"], "parts"),
        refers(&["from_session"], "sessions"),
        refers(&["until_session"], "sessions"),
    ],
    rows,
};

/// The car and the part of an owner that has a row.
fn owner<'s>(shown: &'s Shown<'_>, owner: Owner) -> Option<[Cell<'s>; 2]> {
    let both = match owner {
        Owner::Car(car) => [shown.car(car), Cell::Nothing],
        Owner::Part(part) => [Cell::Nothing, shown.part(part)],
    };
    both.iter().any(|one| !one.is_nothing()).then_some(both)
}

fn rows(shown: &Shown<'_>, give: &mut Give<'_>) {
    let slots = &shown.compiled.history.slots;
    for track in &slots.tracks {
        if let Some(whose) = owner(shown, track.owner) {
            of_track(shown, track, &whose, give);
        }
    }
    // Lines with an error about what has no value anywhere.
    for lost in &slots.lost {
        let Some(whose) = owner(shown, lost.owner) else { continue };
        if !slots.of_quantity(lost.owner, lost.quantity).is_empty() {
            continue;
        }
        for (index, entry) in lost.lines.iter().enumerate() {
            let unknown = Row {
                verb: None,
                value: None,
                register: Register::Unknown,
                entry: Some(*entry),
                declared: None,
            };
            let next = lost.lines.get(index + 1).copied();
            unknown.give(shown, (lost.owner, lost.quantity, None), &whose, next, give);
        }
    }
}

/// A value with what is typed for it.
struct Row {
    verb: Option<&'static str>,
    value: Option<(String, Option<f64>, Option<crate::units::UnitId>)>,
    register: Register,
    entry: Option<EntryId>,
    declared: Option<Span>,
}

/// The event that ends each: the next of its register, or that makes it unknown; of an unknown one whatever comes next.
fn ends(events: &[SlotEvent]) -> Vec<Option<EntryId>> {
    let (mut asked, mut read, mut any) = (None, None, None);
    let end = |event: &SlotEvent| {
        let entry = event.entry;
        let next = std::mem::replace(&mut any, entry);
        match event.register() {
            Register::Asked => std::mem::replace(&mut asked, entry),
            Register::Read => std::mem::replace(&mut read, entry),
            Register::Unknown => {
                (asked, read) = (entry, entry);
                next
            }
        }
    };
    let mut ends: Vec<Option<EntryId>> = events.iter().rev().map(end).collect();
    ends.reverse();
    ends
}

fn of_track(shown: &Shown<'_>, track: &Track, whose: &[Cell<'_>; 2], give: &mut Give<'_>) {
    let compiled = shown.compiled;
    let ends = ends(&track.events);
    for (event, next) in track.events.iter().zip(ends) {
        let item = compiled.history.item(&compiled.book, track, event);
        let typed = typed_and_si(compiled, track, event);
        let unit = item.filter(|item| item.has_value()).map(crate::book::entry::Item::unit);
        let declared = match (event.entry, item, track.file(&compiled.book, event)) {
            (None, Some(item), Some(file)) => Some(Span::new(file, item.start, item.start)),
            _ => None,
        };
        let row = Row {
            verb: event.line(&compiled.book).map(|line| line.verb.word()).or(declared.map(|_| "car")),
            value: typed.map(|(typed, si)| (typed, si, unit)),
            register: event.register(),
            entry: event.entry,
            declared,
        };
        row.give(shown, (track.owner, track.quantity, Some(track)), whose, next, give);
    }
}

impl Row {
    fn give(
        &self,
        shown: &Shown<'_>,
        (owner, quantity, track): (Owner, crate::vocabulary::QuantityId, Option<&Track>),
        [car, part]: &[Cell<'_>; 2],
        next: Option<EntryId>,
        give: &mut Give<'_>,
    ) {
        let book = &shown.compiled.book;
        let what = book.vocabulary.get(quantity);
        let rank = |entry: EntryId| shown.compiled.history.order.rank.get(entry).copied();
        let session = |entry: Option<EntryId>| match (owner, entry.and_then(rank)) {
            (Owner::Car(car), Some(rank)) => shown.session_from(car, rank),
            _ => Cell::Nothing,
        };
        let from_session = match (owner, self.entry) {
            (Owner::Car(car), None) => shown.session_from(car, crate::history::order::Rank::START),
            _ => session(self.entry),
        };
        let [file, line] = match self.declared {
            Some(span) => shown.stands(span),
            None => shown.line(self.entry),
        };
        let [until_file, until_line] = shown.line(next);
        let (typed, si, unit) = match &self.value {
            Some((typed, si, unit)) => (Some(typed), *si, *unit),
            None => (None, None, None),
        };
        let hard = track.and_then(|track| track.from_hard).filter(|_| si.is_some());
        give(&[
            car.clone(),
            part.clone(),
            Cell::from(&*what.name),
            track.map_or(Cell::Nothing, |track| shown.place(track.place)),
            Cell::from(match self.register {
                Register::Asked => "asked",
                Register::Read => "read",
                Register::Unknown => "unknown",
            }),
            Cell::from(self.verb.filter(|_| {
                self.declared.is_some() || self.entry.is_some_and(|entry| shown.may_read(entry))
            })),
            Cell::from(typed),
            Cell::from(unit.map(|unit| unit.get().shown())),
            Cell::from(si),
            if si.is_some() { shown.si(what.dimension, unit) } else { Cell::Nothing },
            Cell::from(hard.map(|hard| if hard { "full-hard" } else { "full-soft" })),
            shown.day(self.entry),
            from_session,
            file,
            line,
            Cell::from(next.is_none()),
            shown.day(next),
            session(next),
            until_file,
            until_line,
        ]);
    }
}
