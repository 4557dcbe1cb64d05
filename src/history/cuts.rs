//! Which sessions were cut, and by what: what was done at their stops, and what lines of other blocks did while they lasted.
//!
//! Must not know settings.

use super::legs::{self, Done};
use super::order::{Order, Zones};
use super::parts::Parts;
use super::problem::Problem;
use super::sessions::{Session, SessionId, Sessions};
use super::stretches::Part;
use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::CarId;
use crate::book::verbs::VerbGroup;
use rustc_hash::FxHashMap;

/// Cuts the sessions into legs, once it is known where every part was.
pub(super) fn cut(
    book: &Book,
    order: &Order,
    parts: &Parts,
    sessions: &mut Sessions,
    problems: &mut Vec<Problem>,
) {
    let mut zones = Zones::new(book);
    let mut done = done(book, order, parts, sessions);
    let mut cut: FxHashMap<SessionId, Vec<Session>> = FxHashMap::default();
    let ids: Vec<SessionId> = sessions.all.keys().collect();
    for id in ids {
        let mut own = done.remove(&id).unwrap_or_default();
        // A part that moved stands before the line that moved it, met again.
        own.sort_unstable_by_key(|one| (one.rank, !one.moves));
        own.dedup_by_key(|one| one.rank);
        if own.is_empty() && sessions.parts(id).iter().all(Part::runs) {
            continue;
        }
        let session = sessions.get(id);
        let Some(run) = book.runs.get(session.run) else { continue };
        let Some(divided) = legs::legs(book, order, session, sessions.parts(id), run, &own) else { continue };
        let mut all = divided.legs;
        if session.date != session.last {
            for leg in &mut all {
                let zone = zones.of(leg.event);
                leg.date = zone.date_near(session.date, leg.start);
                leg.last = zone.date_near(session.date, (leg.end - 1).max(leg.start));
            }
        }
        let run = session.entry;
        let moved = divided.unsure.iter().map(|entry| Problem::MovedWhileRunning { entry: *entry, run });
        problems.extend(moved);
        let joined = legs::joined(session, &all);
        sessions.joined.extend(joined.into_iter().map(|(row, one)| ((run, row.start, row.end), one)));
        sessions.cut.insert(run, (id, all.len() as u32));
        sessions.all[id].during = divided.during;
        cut.insert(id, all);
    }
    sessions.legs = by_car(sessions, cut);
}

/// What was done to each car while a session of it lasted, by lines that stand under none of its stops.
fn done(book: &Book, order: &Order, parts: &Parts, sessions: &Sessions) -> FxHashMap<SessionId, Vec<Done>> {
    let mut all: FxHashMap<SessionId, Vec<Done>> = FxHashMap::default();
    let mut note = |car: CarId, entry: EntryId, moves: bool| {
        let (Some(rank), Some(at)) = (order.rank.get(entry).copied(), order.at.get(entry).copied()) else {
            return;
        };
        let Some(id) = sessions.before(car, rank) else { return };
        let session = sessions.get(id);
        // As it began, nothing had run yet; as it ended, all had.
        let within =
            session.start < at && at < session.end && order.decided[entry] && order.decided[session.entry];
        if within && !at_stop(book, entry) {
            all.entry(id).or_default().push(Done { rank, at, entry, moves });
        }
    };
    for part in &parts.all {
        let mut before = None;
        for stay in &part.stays {
            // `after s1` is of the end of s1, whenever the line says it was typed.
            if order.rank.get(stay.entry) == Some(&stay.from) {
                for car in [before, stay.car.filter(|car| before != Some(*car))].into_iter().flatten() {
                    note(car, stay.entry, true);
                }
            }
            before = stay.car;
        }
    }
    for (index, entry) in book.entries.iter_enumerated() {
        let works = matches!(
            entry.verb.group(),
            VerbGroup::Setting(_) | VerbGroup::Part(_) | VerbGroup::Bench | VerbGroup::Hit
        );
        let named = book.extra(entry).is_some_and(|extra| extra.after.is_some() || extra.during.is_some());
        if works
            && entry.parent.is_none()
            && !named
            && let Some(car) = book.head(entry).and_then(|head| head.car)
        {
            note(car, index, false);
        }
    }
    all
}

/// Whether a line stands under a stop.
fn at_stop(book: &Book, entry: EntryId) -> bool {
    let line = |at: EntryId| book.entries.get(at);
    let mut above = line(entry).and_then(|line| line.parent);
    let mut below = entry;
    while let Some((at, own)) = above.filter(|at| *at < below).and_then(|at| Some((at, line(at)?))) {
        if own.verb == Verb::Stop {
            return true;
        }
        (below, above) = (at, own.parent);
    }
    false
}

/// Of every car with a session that is cut, all its legs in order.
fn by_car(
    sessions: &Sessions,
    mut cut: FxHashMap<SessionId, Vec<Session>>,
) -> FxHashMap<CarId, Vec<Session>> {
    let mut cars: Vec<CarId> = cut.keys().map(|id| sessions.get(*id).car).collect();
    cars.sort_unstable();
    cars.dedup();
    let mut all = FxHashMap::default();
    for car in cars {
        let mut own = Vec::new();
        for (id, session) in sessions.of(car) {
            match cut.remove(&id) {
                Some(legs) => own.extend(legs),
                None => own.push(session.clone()),
            }
        }
        own.sort_by_key(|leg| leg.rank);
        all.insert(car, own);
    }
    all
}
