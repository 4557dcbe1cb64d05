//! Events without a result, of a car whose others have one.
//!
//! Must not know points.

use super::hole::{Hole, Seen};
use crate::book::entry::Verb;

pub(super) fn holes(seen: &Seen<'_, '_>) -> Vec<Hole> {
    let has = seen.lines().any(|(_, line)| line.verb == Verb::Result);
    let usual = seen.elsewhere().any(|line| line.verb == Verb::Result);
    if has || !usual {
        return Vec::new();
    }
    vec![Hole {
        place: String::new(),
        what: "what came of it".to_owned(),
        put: "in its last block".to_owned(),
        line: "result finish … class …".to_owned(),
        src: seen.sessions.last().map_or_else(String::new, |session| seen.tell.src_of(session.entry)),
    }]
}
