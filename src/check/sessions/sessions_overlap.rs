//! `sessions-overlap`: one car in two sessions at once.

use crate::book::names::same;
use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::sessions::Session;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "sessions-overlap",
    severity: Severity::Error,
    family: Family::Sessions,
    brief: "one car in two sessions at once",
    why: "A session starts before the one before it has ended. A car cannot be in two sessions, so one of the \
          times is wrong, and with it the minutes of every part on the car.",
    wrong: "  11:20..11:45 run s3\n  11:40..12:00 run s4",
    right: "  11:20..11:35 run s3\n  11:40..12:00 run s4",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let mut last: Option<&Session> = None;
    for (_, session) in cx.history.sessions.of(car) {
        // One that may have been at either of two times, or out of its order, has its own message.
        if cx.entry(session.entry).clock.0 < 0 || !cx.history.order.decided[session.entry] {
            continue;
        }
        if let Some(before) = last
            && session.start < before.end
            && !(before.event == session.event && same(told::label(cx, before), told::label(cx, session)))
        {
            out.push(message(cx, before, session));
        }
        if last.is_none_or(|before| session.end >= before.end) {
            last = Some(session);
        }
    }
}

fn message(cx: &Context<'_>, before: &Session, session: &Session) -> Diagnostic {
    let times = |session: &Session| {
        let (from, to) = cx.entry(session.entry).clock;
        if to >= 0 {
            format!("{} {} to {}", told::label(cx, session), words::clock(from), words::clock(to))
        } else {
            format!("{} from {}", told::label(cx, session), words::clock(from))
        }
    };
    CHECK
        .at(
            session.label,
            format!("{} is in two sessions at once: {}, {}.", cx.car(session.car), times(before), times(session)),
        )
        .and(before.label, "not over yet")
        .cure("correct one of the times")
}
