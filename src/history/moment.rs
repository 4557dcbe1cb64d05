//! Moments: `quern-1/s3`, `quern-1/end`, a date, a baseline's name.
//!
//! Must not know settings or parts.

use super::History;
use crate::book::Book;
use crate::book::dates;
use crate::book::entry::EntryId;
use crate::book::model::{BaselineId, CarId, EventId};
use crate::book::names::{Thing, folded, same};
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::source::{Files, Span};
use jiff::civil::Date;

/// A moment in a car's life: everything with a rank below it has happened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Moment {
    /// The rank.
    pub rank: Rank,
    /// As what it was asked for.
    pub which: Which,
    /// The event it belongs to.
    pub event: Option<EventId>,
    /// The session's `run` entry, for a moment during, before or after one.
    pub session: Option<EntryId>,
}

impl Moment {
    /// A rank that nobody named.
    #[must_use]
    pub const fn of_rank(rank: Rank) -> Self {
        Self { rank, which: Which::Unnamed, event: None, session: None }
    }

    fn of_session(rank: Rank, event: EventId, session: &Session, side: Side, asked: AskedBy) -> Self {
        let which = Which::Session { event, label: session.label, side, asked };
        Self { rank, which, event: Some(event), session: Some(session.entry) }
    }
}

/// As what a moment was asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Which {
    /// A rank that nobody named.
    Unnamed,
    /// The end of the book.
    End,
    /// The end of a day.
    Day(Date),
    /// As the car arrived at an event.
    Arrived(EventId),
    /// As it left one.
    Left(EventId),
    /// By a session.
    Session {
        /// The event.
        event: EventId,
        /// The session's label.
        label: Span,
        /// On which side of it.
        side: Side,
        /// How the session was found.
        asked: AskedBy,
    },
    /// By a baseline, which stands for another.
    Baseline(BaselineId, Box<Which>),
}

/// On which side of a session.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Before it began.
    Before,
    /// As it was run.
    During,
    /// After it, with what stands under it.
    After,
}

/// How a session was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AskedBy {
    /// By its label.
    Label,
    /// As the last of the event.
    Last,
    /// As that of the best lap.
    Best,
}

/// Why a typed moment is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum MomentTrouble {
    /// No such event, date or baseline.
    Unknown {
        /// What was typed.
        typed: String,
        /// The nearest.
        near: Option<String>,
    },
    /// The car ran no such session there.
    NoSession {
        /// The event.
        event: String,
        /// The label.
        typed: String,
        /// The labels there are.
        labels: Vec<String>,
    },
    /// The car was not at the event.
    NotThere {
        /// The event.
        event: String,
    },
    /// A baseline of another car, or one whose own moment is none.
    BadBaseline {
        /// The baseline.
        name: String,
    },
}

/// The end of the book.
#[must_use]
pub fn end(history: &History) -> Moment {
    Moment { which: Which::End, ..Moment::of_rank(history.order.entries.next_key()) }
}

/// Reads a moment of a car.
///
/// # Errors
/// Why it is none.
pub fn parse(
    book: &Book,
    files: &Files,
    history: &History,
    car: CarId,
    typed: &str,
) -> Result<Moment, MomentTrouble> {
    parse_at(book, files, history, car, typed, 0)
}

/// What a moment names, and which of its moments is meant: `quern-2/end`.
#[must_use]
pub fn parted(typed: &str) -> (&str, Option<&str>) {
    typed
        .split_once('/')
        .map_or((typed, None), |(name, part)| (name, Some(part).filter(|part| !part.is_empty())))
}

fn parse_at(
    book: &Book,
    files: &Files,
    history: &History,
    car: CarId,
    typed: &str,
    depth: u32,
) -> Result<Moment, MomentTrouble> {
    if let Ok(date) = dates::date(typed) {
        return Ok(of_day(book, history, date));
    }
    let (name, part) = parted(typed);
    let id = match book.names.find(name) {
        Some(Thing::Event(id)) => id,
        Some(Thing::Baseline(id)) if part.is_none() && depth < 4 => {
            let baseline = &book.baselines[id];
            if baseline.car != Some(car) {
                return Err(MomentTrouble::BadBaseline { name: name.to_owned() });
            }
            let moment = parse_at(book, files, history, car, files.text(baseline.moment), depth + 1)
                .map_err(|_| MomentTrouble::BadBaseline { name: name.to_owned() })?;
            return Ok(Moment { which: Which::Baseline(id, Box::new(moment.which)), ..moment });
        }
        _ => {
            let near = book.names.near(name, |thing| matches!(thing, Thing::Event(_) | Thing::Baseline(_)));
            return Err(MomentTrouble::Unknown { typed: name.to_owned(), near });
        }
    };
    let event = &book.events[id];
    let name = event.named.typed.to_string();
    let Some((first, last)) = span(book, history, car, id) else {
        // No line of the car is there, as of an event still to come: how it stands then, as by that date.
        return match part.map(folded).as_deref() {
            None | Some("end") => Ok(of_day(book, history, event.last)),
            Some("start") => Ok(of_day(book, history, event.first.yesterday().unwrap_or(event.first))),
            _ => Err(MomentTrouble::NotThere { event: name }),
        };
    };
    let arrived = Moment { rank: first, which: Which::Arrived(id), event: Some(id), session: None };
    let left = Moment { rank: last.next(), which: Which::Left(id), event: Some(id), session: None };
    let part = part.map(folded);
    match part.as_deref() {
        Some("start") => return Ok(arrived),
        Some("end") => return Ok(left),
        _ => {}
    }
    let sessions: Vec<_> = history.sessions.at(car, id).map(|(_, session)| session).collect();
    let Some(part) = part else {
        return Ok(sessions.last().map_or(left, |session| {
            Moment::of_session(session.during, id, session, Side::During, AskedBy::Last)
        }));
    };
    if part == "best" {
        let mut best: Option<&Session> = None;
        for session in &sessions {
            if session
                .best
                .is_some_and(|time| best.and_then(|best| best.best).is_none_or(|least| time < least))
            {
                best = Some(session);
            }
        }
        return best
            .map(|session| {
                let rank = history.sessions.at_best(&history.order, session);
                Moment::of_session(rank, id, session, Side::During, AskedBy::Best)
            })
            .ok_or(MomentTrouble::NotThere { event: name });
    }
    let (side, label) = match (part.strip_prefix("before-"), part.strip_prefix("after-")) {
        (Some(label), _) => (Side::Before, label),
        (_, Some(label)) => (Side::After, label),
        _ => (Side::During, part.as_str()),
    };
    let found = sessions.iter().find(|session| same(files.text(session.label), label));
    let Some(session) = found else {
        let labels: Vec<String> =
            sessions.iter().map(|session| files.text(session.label).to_owned()).collect();
        return Err(MomentTrouble::NoSession { event: name, typed: label.to_owned(), labels });
    };
    let rank = match side {
        Side::Before => session.rank,
        Side::After => session.after,
        Side::During => session.during,
    };
    Ok(Moment::of_session(rank, id, session, side, AskedBy::Label))
}

/// The end of a day.
fn of_day(book: &Book, history: &History, date: Date) -> Moment {
    let after = date.tomorrow().unwrap_or(date);
    let end = super::time::Zone::new(book.shop.zone.as_deref()).day_start(after);
    let rank = history.order.entries.partition_point(|entry| history.order.at[*entry] < end);
    Moment { which: Which::Day(date), ..Moment::of_rank(rank) }
}

/// First and last rank of a car's lines at an event.
#[must_use]
pub fn span(book: &Book, history: &History, car: CarId, event: EventId) -> Option<(Rank, Rank)> {
    let mut both: Option<(Rank, Rank)> = None;
    for head in book.heads_of(car).filter(|head| head.event == Some(event)) {
        for entry in head.lines() {
            let rank = history.order.rank[entry];
            both = Some(both.map_or((rank, rank), |(first, last)| (first.min(rank), last.max(rank))));
        }
    }
    both
}
