//! Sessions that do not say how long they ran, how many laps, how fast, or who drove.
//!
//! Must not know settings.

use super::hole::{Hole, Seen};
use crate::history::sessions::Session;

pub(super) fn holes(seen: &Seen<'_, '_>) -> Vec<Hole> {
    let tell = seen.tell;
    // What none of the car's sessions has, this book does not keep.
    let keeps = |has: fn(&Session) -> bool| {
        tell.cx.history.sessions.of(seen.car).filter(|(_, session)| has(session)).count() > 1
    };
    let laps = keeps(|session| session.laps.is_some());
    let best = keeps(|session| session.best.is_some());
    let drivers =
        tell.cx.history.sessions.of(seen.car).filter(|(_, session)| session.driver.is_some()).count() > 1;
    let mut list = Vec::new();
    for session in seen.sessions {
        let label = tell.label(session);
        let mut hole = |what: &str, put: &str, line: &str| {
            list.push(Hole {
                place: label.to_owned(),
                what: what.to_owned(),
                put: format!("{put} run {label}"),
                line: line.to_owned(),
                src: tell.src_of(session.entry),
            });
        };
        if session.minutes.is_none() {
            hole("how long it ran", "before", "…:…..…:…");
        }
        if session.laps.is_none() && laps {
            hole("how many laps", "behind", "… laps");
        }
        if session.best.is_none() && best {
            hole("its best lap", "behind", "best …");
        }
        if tell.drivers(session).is_empty() && drivers {
            hole("who drove", "behind", "by …");
        }
    }
    list
}
