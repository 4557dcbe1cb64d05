//! The ladder of a few sessions: what was changed before each, what it did, what the driver said.
//!
//! Must not know what was said before.

use crate::book::entry::{Entry, EntryId, Verb};
use crate::book::model::CarId;
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::report::section::stops;
use crate::report::section::{bests, entry};
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;

/// A session.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LadderSession {
    /// Its label.
    pub label: String,
    /// "6 Sep".
    pub date: String,
    /// Laps.
    pub laps: String,
    /// Running minutes.
    pub minutes: String,
    /// Best lap as typed, min:s.
    pub best: String,
    /// Whether it is the best of these sessions.
    pub quickest: bool,
    /// Median of the laps that count, min:s; an en dash where fewer than three are listed.
    pub median: String,
    /// How many laps that is of.
    pub counted: usize,
    /// Driver and conditions.
    pub conditions: String,
    /// What was changed before it, and at its stops: "at its stop: swap tyre-set T1 → T2".
    pub changes: Vec<LadderChange>,
    /// What was said after it.
    pub said: Vec<SpokenWords>,
    /// Its line.
    pub src: String,
}

/// A change.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LadderChange {
    /// "set bar-hole front 1 → 3".
    pub text: String,
    /// Why.
    pub because: String,
    /// Its line.
    pub src: String,
}

/// Words of the driver, or the shop's own judgement.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SpokenWords {
    /// In quotes, or empty.
    pub quote: String,
    /// "entry push, exit neutral".
    pub graded: String,
    /// Whether it is the shop's own judgement.
    pub own: bool,
    /// The line.
    pub src: String,
}

/// The sessions, the last one first.
pub(in crate::report) fn ladder(tell: &Teller<'_>, car: CarId, sessions: &[&Session]) -> Vec<LadderSession> {
    let best = bests::quickest(sessions.iter().copied()).map(|best| best.entry);
    let first = sessions.first().map_or(Rank::START, |first| {
        first.event.map_or(first.rank, |event| stops::first_rank(tell, car, event))
    });
    let mut from = first;
    let mut list: Vec<LadderSession> = sessions
        .iter()
        .map(|session| {
            let before = std::mem::replace(&mut from, session.during);
            let (median, counted) =
                bests::median(tell, session).unwrap_or_else(|| (words::DASH.to_owned(), 0));
            LadderSession {
                label: tell.label(session).to_owned(),
                date: words::short(session.date),
                laps: session.laps.map_or_else(|| words::DASH.to_owned(), |laps| laps.to_string()),
                minutes: session
                    .minutes
                    .map_or_else(|| words::DASH.to_owned(), |minutes| words::amount(minutes, 1)),
                best: bests::lap(tell, session),
                quickest: best == Some(session.entry),
                median,
                counted,
                conditions: tell.about_run(session).join(", "),
                changes: changes(tell, car, before, session.rank)
                    .into_iter()
                    .chain(at_stops(tell, session))
                    .collect(),
                said: said(tell, session),
                src: tell.src_of(session.entry),
            }
        })
        .collect();
    list.reverse();
    list
}

/// What was set, adjusted, filled, fitted or taken off between two ranks.
pub(super) fn changes(tell: &Teller<'_>, car: CarId, from: Rank, until: Rank) -> Vec<LadderChange> {
    changed(tell, car, from, until).filter_map(|line| Some(done(tell, tell.entry(line)?))).collect()
}

/// The same of what was done at the stops of a session: it ran on with it, and nothing of it was changed before the next.
fn at_stops(tell: &Teller<'_>, session: &Session) -> impl Iterator<Item = LadderChange> {
    let done = changes(tell, session.car, session.rank, session.during).into_iter();
    done.map(|done| LadderChange { text: format!("at its stop: {}", done.text), ..done })
}

/// The lines that did.
fn changed(tell: &Teller<'_>, car: CarId, from: Rank, until: Rank) -> impl Iterator<Item = EntryId> {
    let order = tell.cx.history.order.entries.within(from..until);
    let own = order.iter().copied().filter(move |index| tell.cx.car_of(*index) == Some(car));
    own.filter(|index| tell.entry(*index).is_some_and(is_change))
}

/// Those that are told against what the laps did: what is filled is used up, and stands for no setting.
pub(super) fn settings(tell: &Teller<'_>, car: CarId, from: Rank, until: Rank) -> Vec<EntryId> {
    let sets = |line: &EntryId| tell.entry(*line).is_some_and(|entry| entry.verb != Verb::Fill);
    changed(tell, car, from, until).filter(sets).collect()
}

fn is_change(entry: &Entry) -> bool {
    let part = matches!(
        entry.verb,
        Verb::Fit | Verb::Remove | Verb::Swap | Verb::Move | Verb::Build | Verb::Strip | Verb::Rebuild
    );
    (matches!(entry.verb, Verb::Set | Verb::Adjust | Verb::Fill) || part)
        && !(entry.broken || entry.void || entry.withheld)
}

pub(in crate::report) fn done(tell: &Teller<'_>, line: &Entry) -> LadderChange {
    LadderChange {
        text: format!("{} {}", line.verb.word(), entry::middle(tell, line, false)),
        because: tell.because(line).unwrap_or_default().to_owned(),
        src: tell.src(line.span()),
    }
}

/// What was said and thought under a session.
pub(in crate::report) fn said(tell: &Teller<'_>, session: &Session) -> Vec<SpokenWords> {
    let under = tell.cx.book.under(session.entry);
    let spoken = under
        .filter(|(_, line)| matches!(line.verb, Verb::Say | Verb::Think) && !line.broken && !line.withheld);
    spoken
        .map(|(index, line)| SpokenWords {
            quote: entry::quotes(tell, line),
            graded: entry::middle(tell, line, true),
            own: line.verb == Verb::Think,
            src: tell.src_of(index),
        })
        .collect()
}
