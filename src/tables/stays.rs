//! Fitted intervals: where each part was, from which line until which, and what it ran there.

use super::cell::Cell;
use super::parts::{STATES, place};
use super::schema::{Column, FILE, FactTable, Give, LINE, refers};
use super::shown::Shown;
use crate::book::entry::EntryId;
use crate::book::model::{Clock, PartId};
use crate::history::order::Rank;
use crate::history::partly;
use crate::history::parts::{PartHistory, Stay};
use crate::history::tally::Tally;
use crate::history::untold::may_have_run;

/// Stays.
pub const TABLE: FactTable = FactTable {
    name: "stays",
    what: "A time that a part was in one place: on a car, inside another part, on the shelf. A line of which the reader may not read the \
           words still counts for the hours.",
    key: &[],
    columns: &[
        Column::text("part", "The part").needed(),
        Column::whole("number", "Which of its stays, from 1").needed(),
        Column::text("state", STATES).needed(),
        Column::text("car", "The car it was on, in whatever it was inside of"),
        Column::text("place", "The place on that car"),
        Column::text("inside", "The part it was inside of"),
        Column::date("from_date", "Since when"),
        FILE,
        LINE,
        Column::truth("lasts", "1: it is there at the end of the book; 0: it went elsewhere"),
        Column::date("until_date", "Until when"),
        Column::text("ended_by", "The verb of the line that ended it; empty while it lasts"),
        Column::text("until_file", "The ledger of that line"),
        Column::whole("until_line", "Its line"),
        Column::real(
            "minutes",
            "min",
            "Running time there; empty where not all of it is known, and off the cars",
        ),
        Column::real("minutes_least", "min", "What of it is known"),
        Column::real("km", "km", "Driven there, likewise"),
        Column::real("km_least", "km", "What of it is known"),
        Column::whole("laps", "Laps there, where all are known"),
        Column::whole("starts", "Standing starts there"),
        Column::whole("sessions", "Sessions there"),
        Column::whole("days", "Days with a session there"),
        Column::whole("heat_cycles", "Heat cycles there"),
    ],
    refers: &[refers(&["part"], "parts"), refers(&["car"], "cars"), refers(&["inside"], "parts")],
    rows,
};

/// What a tally says on the clocks that tables have: minutes, those known; km, those known; laps, starts, sessions, days, heat cycles.
fn used<'a>(tally: Option<&Tally>) -> [Cell<'a>; 9] {
    let Some(tally) = tally else { return [const { Cell::Nothing }; 9] };
    let scaled = |clock: Clock, unit: f64| {
        let (value, at_least) = tally.on(clock);
        [Cell::from(Some(value / unit).filter(|_| !at_least)), Cell::from(value / unit)]
    };
    let count = |clock: Clock| {
        let (value, at_least) = tally.on(clock);
        Cell::from(Some(libm::round(value) as i64).filter(|_| !at_least))
    };
    let ([minutes, minutes_least], [km, km_least]) =
        (scaled(Clock::Time, 60.0), scaled(Clock::Distance, 1000.0));
    [
        minutes,
        minutes_least,
        km,
        km_least,
        count(Clock::Laps),
        count(Clock::Launches),
        count(Clock::Sessions),
        count(Clock::Days),
        count(Clock::HeatCycles),
    ]
}

fn rows(shown: &Shown<'_>, give: &mut Give<'_>) {
    let history = &shown.compiled.history;
    for id in shown.compiled.book.parts.keys() {
        if shown.part(id).is_nothing() {
            continue;
        }
        let told = history.parts.get(id);
        let lapped = lapped(shown, told);
        // A move from car to car passes the shelf without lying on it.
        let until = shown.until(id);
        let lasting = |stay: &&Stay| stay.from != stay.until && stay.from < until;
        let mut stays = told.stays.iter().filter(lasting).peekable();
        let mut number = 0_u32;
        while let Some(stay) = stays.next() {
            number += 1;
            let next = stays.peek().map(|next| next.entry);
            let lasts = next.is_none() && stay.until == Rank::END;
            of_stay(shown, id, (number, stay), (next, lasts), &lapped, give);
        }
    }
}

/// The failures that say the lap or the stage: only part of their session counts.
fn lapped(shown: &Shown<'_>, told: &PartHistory) -> Vec<EntryId> {
    let (book, history) = (&shown.compiled.book, &shown.compiled.history);
    let says = |failure: &EntryId| partly::is_told(book, history, *failure);
    told.failures.iter().copied().filter(says).collect()
}

/// What a part ran in a stay; `None` off the cars.
fn tally(shown: &Shown<'_>, part: PartId, stay: &Stay, lapped: &[EntryId]) -> Option<Tally> {
    let (book, history) = (&shown.compiled.book, &shown.compiled.history);
    let mut tally = Tally::default();
    let loans = history.parts.get(part).lent_between(stay.from, stay.until);
    let mut lent = false;
    // The stay in which it comes back is the next one.
    for loan in loans.filter(|loan| loan.out.0 >= stay.from) {
        tally.add_away(loan.ran(book, Rank::END));
        lent = true;
    }
    let untold = may_have_run(history, part, stay.from, stay.until);
    if untold {
        tally.unsure();
    }
    let Some(car) = stay.car else { return (lent || untold).then_some(tally) };
    let odometer = history.odometer(car)?;
    let sure = history.parts.sure(part, stay);
    let places = odometer.between(stay.from, sure);
    if !odometer.between(sure, stay.until).is_empty() {
        tally.unsure();
    }
    if places.is_empty() {
        return Some(tally);
    }
    if let Some(leg) = odometer.leg(places.clone()).filter(|_| lapped.is_empty()) {
        tally.add_leg(leg);
        return Some(tally);
    }
    for session in history.sessions.ran_at(car, places) {
        tally.add(&partly::up_to(book, history, lapped, session));
    }
    Some(tally)
}

fn of_stay(
    shown: &Shown<'_>,
    part: PartId,
    (number, stay): (u32, &Stay),
    (next, lasts): (Option<EntryId>, bool),
    lapped: &[EntryId],
    give: &mut Give<'_>,
) {
    let [state, car, place, inside] = place(shown, stay);
    let [file, line] = shown.line(stay.entry);
    let [until_file, until_line] = shown.line(next);
    let ended =
        next.filter(|next| shown.may_read(*next)).and_then(|next| shown.compiled.book.entries.get(next));
    let tally = tally(shown, part, stay, lapped);
    let [minutes, minutes_least, km, km_least, laps, starts, sessions, days, heat_cycles] =
        used(tally.as_ref());
    give(&[
        shown.part(part),
        Cell::from(number),
        state,
        car,
        place,
        inside,
        shown.day(stay.entry),
        file,
        line,
        Cell::from(lasts),
        shown.day(next),
        Cell::from(ended.map(|entry| entry.verb.word())),
        until_file,
        until_line,
        minutes,
        minutes_least,
        km,
        km_least,
        laps,
        starts,
        sessions,
        days,
        heat_cycles,
    ]);
}
