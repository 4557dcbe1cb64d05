//! `clock-skipped`: a time that the clock skips.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "clock-skipped",
    severity: Severity::Error,
    family: Family::Sessions,
    brief: "a time that the clock skips",
    why: "When the clocks go forward, the hour in between is on no clock of that zone. A line that says it was done then was \
          done at another time: what it says is not known to have been so, and a session has no minutes by its times until it is \
          put right.",
    wrong: "2026-03-29 heron\n  01:30..02:20 run s1",
    right: "2026-03-29 heron\n  02:00..02:20 run s1",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::ClockSkipped { typed, date } = *problem else { return None };
    let (zone, name) = told::zone(cx, typed);
    let clock = told::face(cx, typed);
    let message = match zone.skipped(date, clock) {
        Some((from, to)) => format!(
            "There is no {} on {date}: the clock goes from {} to {} ({name}).",
            crate::words::clock(clock),
            crate::words::clock(from as i16),
            crate::words::clock(to as i16)
        ),
        None => format!("There is no {} on {date} ({name}).", crate::words::clock(clock)),
    };
    Some(CHECK.at(told::face_span(cx, typed), message).cure("type what the clock showed then"))
}
