//! Best laps, by circuit and by session.
//!
//! Must not know settings.

use crate::book::model::{CarId, CircuitId};
use crate::history::sessions::{self, Session};
use crate::history::stretches::Part;
use crate::report::section::stops;
use crate::report::teller::Teller;
use crate::report::words;
use crate::trials::course::{Way, way};
use crate::units::number;
use crate::words::scale::Scale;
use serde::Serialize;

/// The best lap at one circuit.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Best {
    /// The circuit.
    pub circuit: String,
    /// Its length: "1.2 km a lap", of a stage "10.5 km".
    pub length: String,
    /// The lap as typed.
    pub lap: String,
    /// Event and session.
    pub session: String,
    /// When.
    pub date: String,
    /// Who drove.
    pub driver: String,
    /// Conditions, as typed.
    pub conditions: String,
    /// Its line.
    pub src: String,
    /// The best of each other event there: "1:08.42 at quern-1 s2".
    pub others: Vec<String>,
    /// The best there in the last year before that has one: "1:08.90 in 2025 (quern-1 s4), -1.72 s"; else empty.
    pub before: String,
    /// The line of that.
    pub before_src: String,
}

/// A session's best lap as typed; the least of its listed laps otherwise.
pub(in crate::report) fn lap(tell: &Teller<'_>, session: &Session) -> String {
    let Some(best) = session.best else { return words::DASH.to_owned() };
    let line = tell.entry(session.entry).map_or("", |entry| tell.cx.text(entry.span()));
    let mut after = line.split_whitespace().skip_while(|word| !word.eq_ignore_ascii_case("best"));
    if let Some(typed) = after.nth(1) {
        return typed.to_owned();
    }
    words::lap(best, 2)
}

/// The median of a session's listed laps but for those into and out of the pits, min:s, and how many they are.
pub(in crate::report) fn median(tell: &Teller<'_>, session: &Session) -> Option<(String, usize)> {
    let (middle, count) = sessions::median(tell.cx.book, session)?;
    Some((words::lap(middle, 2), count))
}

/// The quickest of some sessions.
pub(in crate::report) fn quickest<'s>(sessions: impl Iterator<Item = &'s Session>) -> Option<&'s Session> {
    sessions
        .filter(|session| session.best.is_some())
        .min_by(|a, b| a.best.unwrap_or(f64::INFINITY).total_cmp(&b.best.unwrap_or(f64::INFINITY)))
}

/// The circuit a session ran on.
pub(in crate::report) fn circuit(tell: &Teller<'_>, session: &Session) -> Option<CircuitId> {
    session.event.and_then(|event| tell.cx.book.events.get(event)).and_then(|event| event.circuit)
}

/// The best lap of each circuit in a year's sessions of a car, in order of first visit.
pub(in crate::report) fn bests(tell: &Teller<'_>, car: CarId, year: i16, sessions: &[&Session]) -> Vec<Best> {
    // Runs of two lengths are of two roads.
    let road = |session: &Session| Some((circuit(tell, session)?, way(tell.cx.facts, session)));
    let mut roads: Vec<(CircuitId, Option<Way>)> = Vec::new();
    for session in sessions.iter().filter(|session| session.best.is_some()) {
        if let Some(one) = road(session).filter(|one| !roads.contains(one)) {
            roads.push(one);
        }
    }
    roads
        .into_iter()
        .filter_map(|(id, way)| {
            let there = || sessions.iter().copied().filter(|session| road(session) == Some((id, way)));
            let best = quickest(there())?;
            let place = tell.cx.book.circuits.get(id)?;
            let others = stops::events(&there().collect::<Vec<_>>())
                .into_iter()
                .filter(|event| Some(*event) != best.event)
                .filter_map(|event| quickest(there().filter(|session| session.event == Some(event))))
                .map(|session| format!("{} at {}", lap(tell, session), session_name(tell, session)))
                .collect();
            let entry = tell.entry(best.entry);
            let before = before(tell, car, year, (id, way));
            let length = way.map(|way| way as f64 * 100.0).or(place.length);
            Some(Best {
                circuit: place.named.title.clone(),
                length: length.map_or_else(String::new, |metres| {
                    let length = Scale::lap_length(tell.cx.book, car, metres);
                    if way.is_some() { length } else { format!("{length} a lap") }
                }),
                lap: lap(tell, best),
                session: session_name(tell, best),
                date: words::date(best.date),
                driver: entry.and_then(|entry| tell.by(entry.by)).unwrap_or_default().to_owned(),
                conditions: entry.map_or_else(String::new, |entry| tell.conditions(entry).join(", ")),
                src: tell.src_of(best.entry),
                others,
                before: before.map_or_else(String::new, |then| {
                    let change = change(best.best.unwrap_or(0.0) - then.best.unwrap_or(0.0));
                    let lap = lap(tell, then);
                    format!("{lap} in {} ({}), {change}", then.date.year(), session_name(tell, then))
                }),
                before_src: before.map_or_else(String::new, |then| tell.src_of(then.entry)),
            })
        })
        .collect()
}

/// A stage driven on a road that has a name.
struct Drive<'a> {
    session: &'a Session,
    part: &'a Part,
    seconds: f64,
}

/// The stages of a car on a road, in order, of every year.
fn drives<'a>(tell: &Teller<'a>, car: CarId, road: CircuitId) -> Vec<Drive<'a>> {
    let sessions = &tell.cx.history.sessions;
    let parts =
        sessions.of(car).flat_map(|(id, session)| sessions.parts(id).iter().map(move |part| (session, part)));
    let here = parts.filter(|(_, part)| part.course == Some(road));
    here.filter_map(|(session, part)| Some(Drive { session, part, seconds: part.minutes? * 60.0 })).collect()
}

/// Stages of one road are the same as far as they are as long: to a tenth of a kilometre, as finely as they are typed (common practice).
fn is_as_long(one: &Drive<'_>, other: &Drive<'_>) -> bool {
    one.part.distance.zip(other.part.distance).is_some_and(|(one, other)| libm::fabs(one - other) < 100.0)
}

/// The best time on each road that a stage of the year was on.
pub(in crate::report) fn stages(tell: &Teller<'_>, car: CarId, year: i16) -> Vec<Best> {
    let roads = tell.cx.book.circuits.iter_enumerated();
    roads.filter_map(|(road, named)| of_road(tell, car, year, (road, &named.named.title))).collect()
}

fn of_road(tell: &Teller<'_>, car: CarId, year: i16, (road, title): (CircuitId, &str)) -> Option<Best> {
    let all = drives(tell, car, road);
    let of_year = || all.iter().filter(|one| one.session.date.year() == year);
    let least = |drives: &mut dyn Iterator<Item = &Drive<'_>>| -> Option<usize> {
        let best = drives.min_by(|a, b| a.seconds.total_cmp(&b.seconds))?;
        all.iter().position(|one| one.part.entry == best.part.entry)
    };
    // The road's own length says which are it whole; where it says none, the first of the year does.
    let length_of_road = tell.cx.book.circuits.get(road).and_then(|road| road.length);
    let whole = length_of_road.or_else(|| of_year().find_map(|one| one.part.distance));
    let is_whole = |one: &&Drive<'_>| {
        one.part.distance.zip(whole).is_some_and(|(own, whole)| libm::fabs(own - whole) < 100.0)
    };
    let best = all.get(least(&mut of_year().filter(is_whole))?)?;
    let time = |one: &Drive<'_>| words::lap(one.seconds, 1);
    let name = |one: &Drive<'_>| {
        let stage = one.part.label.map_or("", |label| tell.cx.text(label));
        one.session.event.map_or_else(|| stage.to_owned(), |event| format!("{} {stage}", tell.event(event)))
    };
    let length = |one: &Drive<'_>| {
        one.part.distance.map_or_else(String::new, |metres| Scale::lap_length(tell.cx.book, car, metres))
    };
    let others = of_year().filter(|one| one.part.entry != best.part.entry).map(|one| {
        let apart = if is_as_long(best, one) {
            String::new()
        } else {
            format!(", over {}: not compared", length(one))
        };
        format!("{} at {}{apart}", time(one), name(one))
    });
    let earlier = || all.iter().filter(|one| one.session.date.year() < year && is_as_long(best, one));
    let last = earlier().map(|one| one.session.date.year()).max();
    let before =
        least(&mut earlier().filter(|one| Some(one.session.date.year()) == last)).and_then(|at| all.get(at));
    let run = tell.entry(best.session.entry);
    let driver = best.part.driver.and_then(|driver| tell.cx.book.people.get(driver));
    Some(Best {
        circuit: title.to_owned(),
        length: length(best),
        lap: time(best),
        session: name(best),
        date: words::date(best.session.date),
        driver: driver.map_or_else(String::new, |driver| driver.named.title.clone()),
        conditions: run.map_or_else(String::new, |run| tell.conditions(run).join(", ")),
        src: tell.src_of(best.part.entry),
        others: others.collect(),
        before: before.map_or_else(String::new, |then| {
            let change = change(best.seconds - then.seconds);
            format!("{} in {} ({}), {change}", time(then), then.session.date.year(), name(then))
        }),
        before_src: before.map_or_else(String::new, |then| tell.src_of(then.part.entry)),
    })
}

/// The quickest session at a circuit in the last year before one that has a lap there.
fn before<'a>(tell: &Teller<'a>, car: CarId, year: i16, at: (CircuitId, Option<Way>)) -> Option<&'a Session> {
    let all = || {
        let own = tell.cx.history.sessions.of(car).map(|(_, session)| session);
        let there = |one: &&Session| circuit(tell, one).map(|id| (id, way(tell.cx.facts, one))) == Some(at);
        own.filter(|one| one.best.is_some() && one.date.year() < year).filter(there)
    };
    let last = all().map(|session| session.date.year()).max()?;
    quickest(all().filter(|session| session.date.year() == last))
}

/// "-0.72 s", "+1.10 s".
fn change(seconds: f64) -> String {
    format!("{} s", number::signed(seconds, 2))
}

/// "quern-2 s6".
pub(in crate::report) fn session_name(tell: &Teller<'_>, session: &Session) -> String {
    let label = tell.label(session);
    session.event.map_or_else(|| label.to_owned(), |event| format!("{} {label}", tell.event(event)))
}
