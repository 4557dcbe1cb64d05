//! `changes-share-a-run`: three or more changes between two sessions of one event.

use super::reasons::is_tuning;
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{Verb, EntryId};
use crate::book::model::EventId;
use crate::diagnostics::{Diagnostic, Severity};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "changes-share-a-run",
    severity: Severity::Note,
    family: Family::Settings,
    brief: "three or more changes between two sessions of one event",
    why: "When several things change before one session, no lap gain or loss can be credited to one of them. At times there \
          is no time for more sessions; the note is there so that nobody later reads more out of the laps than is in them. \
          Tyre pressures and fuel are not counted.",
    wrong: "  run s3\n  set bar-hole front 4\n  set wing-angle 8 deg\n  set brake-bias 60 %\n  run s4",
    right: "  run s3\n  set bar-hole front 4\n  run s4\n  set wing-angle 8 deg\n  run s5",
    look: Look::Whole(look),
};

/// How many changes are too many to tell apart.
const MANY: usize = 3;

#[derive(Default, Clone)]
struct Since {
    event: Option<EventId>,
    names: Vec<String>,
    lines: Vec<EntryId>,
}

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let mut cars = vec![Since::default(); cx.book.cars.len()];
    for index in &cx.history.order.entries {
        let entry = cx.entry(*index);
        if entry.broken || entry.void || !matches!(entry.verb, Verb::Run | Verb::Set | Verb::Adjust | Verb::Swap) {
            continue;
        }
        let Some(head) = cx.book.head(entry) else { continue };
        let Some(since) = head.car.and_then(|car| cars.get_mut(car.index())) else { continue };
        if entry.verb != Verb::Run {
            let Some(name) = is_tuning(cx, entry).filter(|_| since.event.is_some()) else { continue };
            if !since.names.contains(&name) {
                since.names.push(name);
                since.lines.push(*index);
            }
            continue;
        }
        if since.names.len() >= MANY && since.event == head.event {
            out.push(message(cx, *index, since));
        }
        *since = Since { event: head.event, ..Since::default() };
    }
}

fn message(cx: &Context<'_>, run: EntryId, since: &Since) -> Diagnostic {
    let label = cx.book.run(cx.entry(run)).map_or("", |run| cx.text(run.label));
    let mut message = CHECK
        .at(
            cx.entry(run).span(),
            format!(
                "{} changes before {label} ({}): no lap gain can be credited to one of them.",
                since.names.len(),
                words::and(&since.names)
            ),
        )
        .cure("one change a session, where there is time");
    for line in &since.lines {
        message = message.and(cx.entry(*line).span(), "changed here");
    }
    message
}
