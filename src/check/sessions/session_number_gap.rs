//! `session-number-gap`: a session is missing in the count.

use crate::book::model::{CarId, EventId};
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::sessions::Session;
use rustc_hash::FxHashMap;

/// The check.
pub const CHECK: Check = Check {
    name: "session-number-gap",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "a session is missing in the count",
    why: "The car's sessions at the event are numbered, and a number between two others is not there. A session \
          that was run and not written takes its minutes from every part on the car; if it was not run, waive this \
          and say why.",
    wrong: "  run s2\n  run s4",
    right: "  run s2\n  run s3",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let mut events: Vec<EventId> = Vec::new();
    let mut labels: FxHashMap<EventId, Vec<(String, u32, &Session)>> = FxHashMap::default();
    for (_, session) in cx.history.sessions.of(car) {
        let (Some(event), Some((letter, number))) = (session.event, split(told::label(cx, session))) else { continue };
        labels
            .entry(event)
            .or_insert_with(|| {
                events.push(event);
                Vec::new()
            })
            .push((letter, number, session));
    }
    for event in events {
        let mut list = labels.remove(&event).unwrap_or_default();
        list.sort_by(|a, b| (&a.0, a.1).cmp(&(&b.0, b.1)));
        // A label used twice is another check's; the number missing is likely the second one's.
        if list.array_windows().any(|[one, next]| one.0 == next.0 && one.1 == next.1) {
            continue;
        }
        for [(letter, before, first), (other, number, session)] in list.array_windows() {
            if letter == other && number - before > 1 {
                out.push(message(cx, (letter, *before, *number), first, session));
            }
        }
    }
}

/// A letter or letters and a number: `s3`.
fn split(label: &str) -> Option<(String, u32)> {
    let digits = label.find(|c: char| c.is_ascii_digit())?;
    let (letters, number) = label.split_at(digits);
    let lettered = !letters.is_empty() && letters.chars().all(char::is_alphabetic);
    lettered.then(|| number.parse().ok().map(|number| (letters.to_lowercase(), number))).flatten()
}

fn message(
    cx: &Context<'_>,
    (letter, before, number): (&str, u32, u32),
    first: &Session,
    session: &Session,
) -> Diagnostic {
    let missing = if number - before == 2 {
        format!("{letter}{} is", before + 1)
    } else {
        format!("{letter}{} to {letter}{} are", before + 1, number - 1)
    };
    CHECK
        .at(
            session.label,
            format!(
                "{missing} missing between {} and {}, {}.",
                told::label(cx, first),
                told::session(cx, session),
                cx.car(session.car)
            ),
        )
        .and(first.label, "the one before")
        .cure("write the session that is missing, or correct the label")
}
