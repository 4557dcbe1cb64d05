//! The sessions a part ran: which, first to last, and their lines.
//!
//! Must not know what is counted of them.

use crate::book::entry::Entry;
use crate::book::model::PartId;
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::history::usage;
use crate::report::sources;
use crate::report::teller::Teller;
use crate::report::words;

/// The sessions that a part surely ran with `from <= rank < until`, in the order it ran them.
pub(super) fn of_part<'a>(tell: &Teller<'a>, part: PartId, from: Rank, until: Rank) -> Vec<&'a Session> {
    let history = tell.cx.history;
    let stays = history.parts.get(part).stays.iter();
    stays.flat_map(|stay| usage::ran(history, part, stay, from, until).0).collect()
}

/// "quern-1 s3"; a session outside events by its date: "28 Mar s1".
pub(super) fn session(tell: &Teller<'_>, session: &Session) -> String {
    match session.event {
        Some(_) => super::bests::session_name(tell, session),
        None => format!("{} {}", words::short(session.date), tell.label(session)),
    }
}

/// "quern-1 s1 to quern-2 s6, 12 sessions"; empty for none.
pub(super) fn words(tell: &Teller<'_>, sessions: &[&Session]) -> String {
    let legs = sessions.array_windows().filter(|[leg, next]| leg.entry == next.entry).count();
    match sessions {
        [] => String::new(),
        [one] => session(tell, one),
        [one, ..] if legs + 1 == sessions.len() => session(tell, one),
        [first, .., last] => {
            format!(
                "{} to {}, {}",
                session(tell, first),
                session(tell, last),
                crate::words::count((sessions.len() - legs) as u32, "session", "sessions")
            )
        }
    }
}

/// The lines of some sessions.
pub(super) fn src(tell: &Teller<'_>, sessions: &[&Session]) -> String {
    let lines = sessions.iter().filter_map(|session| tell.entry(session.entry)).map(Entry::span);
    sources::lines(tell.cx.files, lines)
}
