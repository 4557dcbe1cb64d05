//! Moments: `quern-1/s3`, `quern-1/end`, a date, a baseline's name.
//!
//! Must not know settings or parts.

use super::History;
use crate::book::Book;
use crate::book::dates;
use crate::book::entry::EntryId;
use crate::book::model::{CarId, EventId};
use crate::book::names::{Thing, folded, nearest, same};
use crate::history::order::Rank;
use crate::source::Files;

/// A moment in a car's life: everything with a rank below it has happened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Moment {
    /// The rank.
    pub rank: Rank,
    /// In words: "quern-1, during s3".
    pub words: String,
    /// The event it belongs to.
    pub event: Option<EventId>,
    /// The session's `run` entry, for a moment during, before or after one.
    pub session: Option<EntryId>,
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
    Moment {
        rank: history.order.entries.next_key(),
        words: "at the end of the book".to_owned(),
        event: None,
        session: None,
    }
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

fn parse_at(
    book: &Book,
    files: &Files,
    history: &History,
    car: CarId,
    typed: &str,
    depth: u32,
) -> Result<Moment, MomentTrouble> {
    if let Ok(date) = dates::date(typed) {
        let after = date.tomorrow().unwrap_or(date);
        let end = super::time::Zone::new(book.shop.zone.as_deref()).day_start(after);
        let rank = history.order.entries.partition_point(|entry| history.order.at[*entry] < end);
        return Ok(Moment { rank, words: format!("at the end of {date}"), event: None, session: None });
    }
    let (name, part) = typed
        .split_once('/')
        .map_or((typed, None), |(name, part)| (name, Some(part).filter(|part| !part.is_empty())));
    let id = match book.names.find(name) {
        Some(Thing::Event(id)) => id,
        Some(Thing::Baseline(id)) if part.is_none() && depth < 4 => {
            let baseline = &book.baselines[id];
            if baseline.car != Some(car) {
                return Err(MomentTrouble::BadBaseline { name: name.to_owned() });
            }
            let moment = parse_at(book, files, history, car, files.text(baseline.moment), depth + 1)
                .map_err(|_| MomentTrouble::BadBaseline { name: name.to_owned() })?;
            return Ok(Moment { words: format!("{} ({})", baseline.named.typed, moment.words), ..moment });
        }
        _ => {
            let near = book.names.near(name, |thing| matches!(thing, Thing::Event(_) | Thing::Baseline(_)));
            return Err(MomentTrouble::Unknown { typed: name.to_owned(), near });
        }
    };
    let event = &book.events[id];
    let name = event.named.typed.to_string();
    let (first, last) =
        span(book, history, car, id).ok_or(MomentTrouble::NotThere { event: name.clone() })?;
    let moment = |rank: Rank, words: String, session: Option<EntryId>| Moment {
        rank,
        words,
        event: Some(id),
        session,
    };
    let part = part.map(folded);
    match part.as_deref() {
        Some("start") => return Ok(moment(first, format!("{name}, as it arrived"), None)),
        Some("end") => return Ok(moment(last.next(), format!("{name}, as it left"), None)),
        _ => {}
    }
    let sessions: Vec<_> = history.sessions.at(car, id).map(|(_, session)| session).collect();
    let Some(part) = part else {
        return Ok(sessions.last().map_or_else(
            || moment(last.next(), format!("{name}, as it left"), None),
            |session| {
                let label = files.text(session.label);
                moment(
                    session.rank.next(),
                    format!("{name}, during {label} (the last session)"),
                    Some(session.entry),
                )
            },
        ));
    };
    if part == "best" {
        let mut best: Option<&super::sessions::Session> = None;
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
                let label = files.text(session.label);
                moment(
                    session.rank.next(),
                    format!("{name}, during {label} (the best lap)"),
                    Some(session.entry),
                )
            })
            .ok_or(MomentTrouble::NotThere { event: name });
    }
    let (side, label) = match (part.strip_prefix("before-"), part.strip_prefix("after-")) {
        (Some(label), _) => ("before", label),
        (_, Some(label)) => ("after", label),
        _ => ("during", part.as_str()),
    };
    let found = sessions.iter().find(|session| same(files.text(session.label), label));
    let Some(session) = found else {
        let labels: Vec<String> =
            sessions.iter().map(|session| files.text(session.label).to_owned()).collect();
        let typed =
            nearest(label, labels.iter().map(String::as_str)).map_or(label.to_owned(), |_| label.to_owned());
        return Err(MomentTrouble::NoSession { event: name, typed, labels });
    };
    let label = files.text(session.label);
    let rank = match side {
        "before" => session.rank,
        "after" => session.after,
        _ => session.rank.next(),
    };
    Ok(moment(rank, format!("{name}, {side} {label}"), Some(session.entry)))
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

impl MomentTrouble {
    /// The trouble in a sentence.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Unknown { typed, near: Some(near) } => {
                format!("`{typed}` is no event, date or baseline of this book; `{near}` is")
            }
            Self::Unknown { typed, near: None } => format!(
                "`{typed}` is no event, date or baseline of this book; a moment is `EVENT`, `EVENT/SESSION`, `EVENT/start`, \
                 `EVENT/end`, `EVENT/best`, a date such as 2026-04-18, or a baseline"
            ),
            Self::NoSession { event, typed, labels } if labels.is_empty() => {
                format!("the car ran no session at {event}, so there is no `{typed}`")
            }
            Self::NoSession { event, typed, labels } => {
                format!("the car ran no session `{typed}` at {event}; it ran {}", labels.join(", "))
            }
            Self::NotThere { event } => format!("the book has no line about this car at {event}"),
            Self::BadBaseline { name } => format!("the baseline `{name}` is not a moment of this car"),
        }
    }
}
