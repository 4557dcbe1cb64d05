//! Which set of tyres ran in which session: any kind that fits the whole car at once.
//!
//! Must not know pressures.

use crate::book::entry::Entry;
use crate::book::model::{CarId, KindId};
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::report::sources;
use crate::report::teller::Teller;
use serde::Serialize;

/// One set in a season.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct TyreSet {
    /// Its name; "no set in the book" for sessions without one.
    pub part: String,
    /// Spec and serial.
    pub about: String,
    /// Event by event: the event, and its sessions' labels.
    pub ran: Vec<TyreRun>,
    /// Its use over the season's sessions.
    pub run: String,
}

/// A set's sessions at one event.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct TyreRun {
    /// The event.
    pub event: String,
    /// Labels.
    pub sessions: String,
    /// Their lines.
    pub src: String,
}

/// The sets, in order of first use.
pub(in crate::report) fn sets(
    tell: &Teller<'_>,
    car: CarId,
    sessions: &[&Session],
    until: Rank,
) -> Vec<TyreSet> {
    let cx = &tell.cx;
    let whole: Vec<KindId> = cx
        .book
        .kinds
        .keys()
        .filter(|id| {
            let fits = &cx.book.kinds[*id].fits;
            fits.iter().any(|fit| fit.places.contains(&Place::ALL))
        })
        .collect();
    let mut order: Vec<(Option<crate::book::model::PartId>, Vec<&Session>)> = Vec::new();
    for session in sessions {
        // At a stop another set may have gone on.
        for leg in cx.history.sessions.legs_between(car, session.rank, session.after) {
            let part =
                whole.iter().find_map(|kind| cx.history.parts.holder(car, *kind, Place::ALL, leg.rank));
            match order.iter_mut().find(|(other, _)| *other == part) {
                Some((_, list)) if list.last().is_some_and(|last| last.entry == session.entry) => {}
                Some((_, list)) => list.push(session),
                None => order.push((part, vec![session])),
            }
        }
    }
    if order.iter().all(|(part, _)| part.is_none()) {
        return Vec::new();
    }
    order
        .into_iter()
        .map(|(part, list)| {
            let mut ran: Vec<(Option<crate::book::model::EventId>, Vec<&Session>)> = Vec::new();
            for session in &list {
                match ran.last_mut().filter(|(event, _)| *event == session.event) {
                    Some((_, there)) => there.push(session),
                    None => ran.push((session.event, vec![session])),
                }
            }
            TyreSet {
                part: part.map_or_else(|| "no set in the book".to_owned(), |part| cx.part(part).to_owned()),
                about: part.map_or_else(String::new, |part| super::parts::about(tell, part)),
                ran: ran
                    .into_iter()
                    .map(|(event, there)| TyreRun {
                        event: event.map_or_else(
                            || "outside events".to_owned(),
                            |event| tell.event(event).to_owned(),
                        ),
                        sessions: labels(tell, &there),
                        src: sources::lines(
                            tell.cx.files,
                            there.iter().filter_map(|session| tell.entry(session.entry)).map(Entry::span),
                        ),
                    })
                    .collect(),
                run: part.map_or_else(String::new, |part| super::parts::life_words(tell, part, until)),
            }
        })
        .collect()
}

/// "s1 to s8", "s1, s2, s4": labels in order; a run of numbered ones is shortened.
fn labels(tell: &Teller<'_>, sessions: &[&Session]) -> String {
    let labels: Vec<&str> = sessions.iter().map(|session| tell.label(session)).collect();
    let number = |label: &str| {
        let digits = label.trim_start_matches(|c: char| !c.is_ascii_digit());
        digits.parse::<u32>().ok().map(|n| (label.len() - digits.len(), n))
    };
    let follows = |before: &&str, here: &&str| {
        let (before, here) = (number(before), number(here));
        before.zip(here).is_some_and(|((a, m), (b, n))| a == b && m.checked_add(1) == Some(n))
    };
    labels
        .chunk_by(follows)
        .map(|run| match run {
            [] => String::new(),
            [one] => (*one).to_owned(),
            [first, last] => format!("{first}, {last}"),
            [first, .., last] => format!("{first} to {last}"),
        })
        .collect::<Vec<_>>()
        .join(", ")
}
