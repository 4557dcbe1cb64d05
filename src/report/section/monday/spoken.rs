//! Sessions after which nobody wrote what the driver said.
//!
//! Must not know the words.

use super::hole::{Hole, Seen};
use crate::book::entry::Verb;
use crate::report::section::now::ladder;

pub(super) fn holes(seen: &Seen<'_, '_>) -> Vec<Hole> {
    let tell = seen.tell;
    let here = seen.lines().filter(|(_, line)| line.verb == Verb::Say).count();
    let elsewhere = seen.elsewhere().filter(|line| line.verb == Verb::Say).take(2).count();
    if here == 0 && elsewhere < 2 {
        return Vec::new();
    }
    let silent =
        seen.sessions.iter().filter(|session| ladder::said(tell, session).iter().all(|words| words.own));
    silent
        .map(|session| Hole {
            place: tell.label(session).to_owned(),
            what: "what the driver said".to_owned(),
            put: format!("under run {}", tell.label(session)),
            line: "say entry …, mid …, exit … \"…\"".to_owned(),
            src: tell.src_of(session.entry),
        })
        .collect()
}
