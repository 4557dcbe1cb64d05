//! Changes between the sessions of an event without a reason.
//!
//! Must not know what a change did.

use super::hole::{Hole, Seen};
use crate::book::entry::Verb;
use crate::report::section::now::ladder;

pub(super) fn holes(seen: &Seen<'_, '_>) -> Vec<Hole> {
    let tell = seen.tell;
    let Some(first) = seen.sessions.first().map(|session| session.rank) else { return Vec::new() };
    let changes = seen.lines().filter(|(index, line)| {
        let changed = matches!(line.verb, Verb::Set | Verb::Adjust | Verb::Swap);
        changed && tell.cx.rank(*index) > first && tell.because(line).is_none()
    });
    changes
        .map(|(_, line)| {
            let done = ladder::done(tell, line);
            Hole {
                place: done.text,
                what: "why".to_owned(),
                put: "at its end".to_owned(),
                line: "because …".to_owned(),
                src: done.src,
            }
        })
        .collect()
}
