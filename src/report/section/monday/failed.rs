//! Failures that do not say how, by what and how it was found; parts that came off and that nobody gave a verdict on.
//!
//! Must not know statistics.

use super::hole::{Hole, Seen};
use crate::book::entry::Verb;
use crate::history::parts::Where;

pub(super) fn holes(seen: &Seen<'_, '_>) -> Vec<Hole> {
    let tell = seen.tell;
    let cx = &tell.cx;
    let mut list = Vec::new();
    for (part, line) in tell.failed_on(seen.car).iter().copied() {
        let Some(entry) = seen.lines().find(|(index, _)| *index == line).map(|(_, entry)| entry) else {
            continue;
        };
        let fields =
            cx.book.extra(entry).and_then(|extra| extra.failure.as_deref()).copied().unwrap_or_default();
        let fields = [
            ("mode", fields.mode),
            ("mechanism", fields.mechanism),
            ("cause", fields.cause),
            ("found-by", fields.found_by),
        ];
        let lacks: Vec<&str> =
            fields.iter().filter(|(_, said)| said.is_none()).map(|(word, _)| *word).collect();
        if lacks.is_empty() || entry.verb != Verb::Failed {
            continue;
        }
        list.push(Hole {
            place: cx.part(part).to_owned(),
            what: "how and why it failed".to_owned(),
            put: "at its end".to_owned(),
            line: lacks.iter().map(|word| format!("{word} …")).collect::<Vec<_>>().join(" "),
            src: tell.src_of(line),
        });
    }
    // What came off there and lies in quarantine still.
    for part in cx.history.parts.ever_on(seen.car).iter().copied() {
        let Some(last) = cx.history.parts.get(part).stays.last().filter(|stay| stay.at == Where::Quarantine)
        else {
            continue;
        };
        if seen.lines().any(|(index, _)| index == last.entry) {
            list.push(Hole {
                place: cx.part(part).to_owned(),
                what: "the verdict on it".to_owned(),
                put: "when it was looked at (or scrap)".to_owned(),
                line: format!("release {} because …", cx.part(part)),
                src: tell.src_of(last.entry),
            });
        }
    }
    list
}
