//! What of a session a part ran that failed in it: up to the end of the lap, or of the stage, in which it did.
//!
//! Must not know limits, nor what counts a part's use.

use super::History;
use super::order::Rank;
use super::session::Session;
use super::stretches::{self, Part};
use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use std::borrow::Cow;

/// Whether a failure says where in its session it was: `lap 13`, or in which stage.
#[must_use]
pub fn is_told(book: &Book, history: &History, failure: EntryId) -> bool {
    let Some(entry) = book.entries.get(failure) else { return false };
    let lap = book.extra(entry).is_some_and(|extra| extra.lap.is_some());
    lap || history.sessions.stage(book, failure).is_some()
}

/// The session as far as a part ran it that these lines say failed: all of it where none is about it, or none says how far it came.
#[must_use]
pub fn up_to<'a>(
    book: &Book,
    history: &History,
    failures: &[EntryId],
    session: &'a Session,
) -> Cow<'a, Session> {
    for failure in failures {
        if !is_of(book, history, *failure, session) {
            continue;
        }
        if let Some(stage) = history.sessions.stage(book, *failure) {
            return through(book, history, session, stage);
        }
        if let Some(share) = share_of_laps(book, history, *failure, session) {
            if share >= 1.0 {
                return Cow::Borrowed(session);
            }
            let ran = shared(session, share);
            let minutes = ran.laps.and_then(|laps| by_stints(history, session, laps)).or(ran.minutes);
            return Cow::Owned(Session { minutes, ..ran });
        }
    }
    Cow::Borrowed(session)
}

/// Whether a line tells of a failure in a session.
fn is_of(book: &Book, history: &History, failure: EntryId, session: &Session) -> bool {
    let failed = book.entries.get(failure).is_some_and(|entry| entry.verb == Verb::Failed);
    failed && history.during(book, failure) == Some(session.entry)
}

/// The share of a session's laps that were run by the end of the one in which a line says that something failed; `None` where it says no
/// such lap.
#[must_use]
pub fn share_of_laps(book: &Book, history: &History, failure: EntryId, session: &Session) -> Option<f64> {
    let lap = book.extra(book.entries.get(failure)?)?.lap?;
    let (laps, before) = (session.laps.filter(|laps| *laps > 0)?, session.laps_before?);
    let share = f64::from(lap.saturating_sub(before)) / f64::from(laps);
    is_of(book, history, failure, session).then(|| share.min(1.0))
}

/// So much of every lap and minute of a session.
fn shared(session: &Session, share: f64) -> Session {
    Session {
        laps: session.laps.map(|laps| libm::round(f64::from(laps) * share) as u32),
        minutes: session.minutes.map(|minutes| minutes * share),
        known: 0.0,
        distance: session.distance.map(|metres| metres * share),
        road: session.road.map(|metres| metres * share),
        ..session.clone()
    }
}

/// The minutes of the first laps of a session whose stints tell their laps and their minutes: stints of whole, and of the last as many of its laps;
/// `None` where they do not come to what the session ran.
fn by_stints(history: &History, session: &Session, laps: u32) -> Option<f64> {
    let rank = |part: &&Part| history.order.rank.get(part.entry).copied().unwrap_or(Rank::START);
    let stints = history.sessions.parts_of(session).iter().filter(|part| part.verb == Verb::Stint);
    let stints = stints.filter(|part| (session.rank..session.after).contains(&rank(part)));
    let stints: Option<Vec<(u32, f64)>> = stints.map(|part| part.laps.zip(part.minutes)).collect();
    let stints = stints.filter(|stints| !stints.is_empty())?;
    let all = stints.iter().fold((0, 0.0), |sum, stint| (sum.0 + stint.0, sum.1 + stint.1));
    if Some(all.0) != session.laps || libm::fabs(all.1 - session.minutes?) > 1e-6 {
        return None;
    }
    let (mut left, mut minutes) = (laps, 0.0);
    for (of_stint, long) in stints {
        let here = left.min(of_stint);
        if here > 0 {
            minutes += long * f64::from(here) / f64::from(of_stint);
        }
        left -= here;
    }
    (left == 0).then_some(minutes)
}

/// A session, or a leg of one, through a stage: its stages up to that one, and the road to each of them. What the stages do not tell (the laps,
/// the road that the run states) is not known of a share.
fn through<'a>(book: &Book, history: &History, session: &'a Session, stage: EntryId) -> Cow<'a, Session> {
    let rank = |part: &Part| history.order.rank.get(part.entry).copied().unwrap_or(Rank::START);
    let parts = history.sessions.parts_of(session).iter().filter(|part| part.runs());
    let here: Vec<&Part> = parts.filter(|part| (session.rank..session.after).contains(&rank(part))).collect();
    let ran = here.iter().take_while(|part| part.entry <= stage).count();
    if ran == here.len() {
        return Cow::Borrowed(session);
    }
    let of = |parts: &[&Part], amount: fn(&Part) -> Option<f64>| {
        stretches::sum(parts.iter().map(|part| amount(part)))
    };
    let (before, all) = (here.get(..ran).unwrap_or_default(), here.as_slice());
    // Of a session that is more than its stages come to nobody knows where the rest was.
    let told = |amount: fn(&Part) -> Option<f64>, whole: Option<f64>| {
        let agrees = of(all, amount).zip(whole).is_some_and(|(sum, whole)| libm::fabs(sum - whole) < 1e-6);
        of(before, amount).filter(|_| agrees)
    };
    let run = book.runs.get(session.run);
    let road_of_run = run.and_then(|run| run.road).is_some_and(|road| road > 0.0);
    let road: f64 = before.iter().map(|part| part.road).sum();
    let broken = book.entries.get(session.entry).is_some_and(|line| line.broken);
    Cow::Owned(Session {
        laps: session.laps.filter(|laps| *laps == 0),
        minutes: told(|part| part.minutes, session.minutes),
        known: 0.0,
        distance: told(|part| part.distance, session.distance),
        road: (!road_of_run).then_some(road),
        untimed: session.untimed && (road_of_run || road > 0.0 || broken),
        ..session.clone()
    })
}
