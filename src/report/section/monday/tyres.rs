//! Hot pressures without the cold ones that they came from.
//!
//! Must not know what a pressure ought to be.

use super::hole::{Hole, Seen};
use crate::book::entry::{Entry, EntryId};

pub(super) fn holes(seen: &Seen<'_, '_>) -> Vec<Hole> {
    let tell = seen.tell;
    let find = |name| tell.cx.book.vocabulary.find(name);
    let (Some(cold), Some(hot)) = (find("tyre-cold"), find("tyre-hot")) else { return Vec::new() };
    let mut list = Vec::new();
    let mut known = false;
    let lines: Vec<(EntryId, &Entry)> = seen.lines().collect();
    for session in seen.sessions {
        known |= lines
            .iter()
            .any(|(index, line)| line.quantity == Some(cold) && tell.cx.rank(*index) < session.after);
        let read = lines.iter().find(|(index, line)| {
            line.quantity == Some(hot) && (session.rank..session.after).contains(&tell.cx.rank(*index))
        });
        let Some((index, _)) = read.filter(|_| !known) else { continue };
        let label = tell.label(session);
        list.push(Hole {
            place: label.to_owned(),
            what: "the cold pressures that its hot ones came from".to_owned(),
            put: format!("before run {label}"),
            line: "read tyre-cold LF … RF … LR … RR … UNIT  by GAUGE".to_owned(),
            src: tell.src_of(*index),
        });
    }
    list
}
