//! `clock-twice`: a time that the clock shows twice, and nothing says which.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::order::Length;
use crate::history::problem::{Problem, Typed};

/// The check.
pub const CHECK: Check = Check {
    name: "clock-twice",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "a time that the clock shows twice, and nothing says which",
    why: "When the clocks go back, an hour comes twice. The zone's offset behind the time says which (`01:30 +01:00`), the minutes \
          of a session do where they fit one of the two, and so do the lines above where only one of the two comes after them. Else nothing is counted from \
          it: the session has no minutes unless they are typed, and the line stands where it is typed.",
    wrong: "2026-10-25 heron\n  00:40..01:30 run s1",
    right: "2026-10-25 heron\n  00:40..01:30 +01:00 run s1",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::ClockTwice { typed, date } = *problem else { return None };
    let (zone, name) = told::zone(cx, typed);
    let clock = told::face(cx, typed);
    let shown = crate::words::clock(clock);
    let (first, second) = zone.offsets(date, clock);
    let run = match typed {
        Typed::Head(_) => None,
        Typed::Start(entry) | Typed::End(entry) => cx.entry(entry).run(),
    };
    let length = run.and_then(|run| cx.history.order.lengths.get(run)).copied();
    let (so, or) = match length {
        Some(Length::Either(least, most)) if least != most => (
            format!(" Its minutes are not counted: {least} or {most} min."),
            ", or the minutes by the stopwatch",
        ),
        Some(Length::Either(least, _)) => {
            (format!(" Its minutes are not counted: {least} min."), ", or the minutes by the stopwatch")
        }
        _ => (String::new(), ""),
    };
    Some(
        CHECK
            .at(
                told::face_span(cx, typed),
                format!("The clock shows {shown} twice on {date} ({name}), and nothing says which it was.{so}"),
            )
            .cure(format!(
                "type `{}` for the first, `{}` for the second{or}",
                told::with_offset(cx, typed, first),
                told::with_offset(cx, typed, second)
            )),
    )
}
