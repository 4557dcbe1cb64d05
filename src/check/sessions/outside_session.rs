//! `outside-session`: the time of a stint, a stage or a stop is not within its session's.

use crate::book::entry::Verb;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::{Problem, Typed};

/// The check.
pub const CHECK: Check = Check {
    name: "outside-session",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "the time of a stint, a stage or a stop is not within its session's",
    why: "Stints, stages and stops are what a session was made of, so that their times lie between its start and its end. One that does \
          not is a slip in either; until it is put right the line stands where it is typed, and how long it was is not known by its times.",
    wrong: "  10:00..12:00 run race\n    12:10..12:40 stint ned",
    right: "  10:00..12:40 run race\n    12:10..12:40 stint ned",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::OutsideSession { entry, run } = *problem else { return None };
    let (line, session) = (cx.entry(entry), cx.entry(run));
    let (start, end) = line.clock;
    let times = if end < 0 {
        crate::words::clock(start)
    } else {
        format!("{}..{}", crate::words::clock(start), crate::words::clock(end))
    };
    let what = if line.verb == Verb::Note { "note" } else { line.verb.word() };
    Some(
        CHECK
            .at(
                told::face_span(cx, Typed::Start(entry)),
                format!("{times} is not within the times of the session that this {what} belongs to."),
            )
            .and(session.span(), "the session")
            .cure("correct the times of the one or the other"),
    )
}
