//! `clock-offset-wrong`: an offset behind a time that its zone does not have then.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words::offset;
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "clock-offset-wrong",
    severity: Severity::Error,
    family: Family::Sessions,
    brief: "an offset behind a time that its zone does not have then",
    why: "The offset says which of two times it was when the clocks go back: it is what the clock on the wall is ahead of UTC. It \
          is one that the zone of the event, or else of the shop, has at that time. Otherwise the time is of another zone or \
          another day, and the line is not known to have been then.",
    wrong: "2026-10-25 heron\n  00:40..01:30 +02:00 run s1",
    right: "2026-10-25 heron\n  00:40..01:30 +01:00 run s1",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::ClockOffsetWrong { typed, date } = *problem else { return None };
    let (zone, name) = told::zone(cx, typed);
    let clock = told::face(cx, typed);
    let (first, second) = zone.offsets(date, clock);
    let shown = crate::words::clock(clock);
    let (are, cure) = if first == second {
        (
            offset(first),
            "leave the offset out, or correct the time; the end of a session stands behind two points, 09:35..09:55"
                .to_owned(),
        )
    } else {
        let typed_so = |ahead| told::with_offset(cx, typed, ahead);
        (
            format!("{} and then {}", offset(first), offset(second)),
            format!("type `{}` for the first, `{}` for the second", typed_so(first), typed_so(second)),
        )
    };
    Some(
        CHECK
            .at(told::face_span(cx, typed), format!("At {shown} on {date} the clock of {name} is {are}."))
            .cure(cure),
    )
}
