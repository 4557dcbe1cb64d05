//! `moved-while-running`: by its time a part went on or came off while the car ran.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::{Problem, Typed};

/// The check.
pub const CHECK: Check = Check {
    name: "moved-while-running",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "by its time a part went on or came off while the car ran",
    why: "Parts are changed while the car stands: between sessions, or at a stop of one. This line's time lies within a session, and by the \
          lines under that one the car ran then, or nobody knows. How much of the running was before the change is not known, so that what \
          came off and what went on both have \"at least\" what is known of them.",
    wrong: "  10:00..12:00 run race\n  11:00 swap pads front pd-1 -> pd-2",
    right: "  10:00..12:00 run race\n    10:55..11:05 stop\n      swap pads front pd-1 -> pd-2",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::MovedWhileRunning { entry, run } = *problem else { return None };
    let (line, session) = (cx.entry(entry), cx.entry(run));
    let at = if line.clock.0 >= 0 { told::face_span(cx, Typed::Start(entry)) } else { line.span() };
    let session_name = cx.history.sessions.of_run(run).map_or_else(
        || "the session".to_owned(),
        |whole| cx.text(whole.label).to_owned(),
    );
    Some(
        CHECK
            .at(at, format!("{session_name} had begun and was not over then, and no stop of it says that the car stood."))
            .and(session.span(), "the session")
            .cure("write the stop, with its times, under the session, or correct the time"),
    )
}
