//! `late-entry`: written long after it happened.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "late-entry",
    severity: Severity::Note,
    family: Family::Sessions,
    brief: "written long after it happened",
    why: "The head says that it was written more than two weeks after its date. Memory is worth less than a note \
          made in the lane, and a report handed out in between did not have it.",
    wrong: "2026-06-27 heron  written 2026-08-09",
    right: "2026-06-27 heron  written 2026-06-29",
    look: Look::Whole(look),
};

/// Days after which a note is late.
const DAYS: i32 = 14;

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for head in &cx.book.heads {
        let Some(written) = head.written else { continue };
        let Ok(after) = head.date.until(written) else { continue };
        let days = after.get_days();
        if days > DAYS {
            out.push(
                CHECK
                    .at(head.span, format!("{days} days late: {}, written {written}.", head.date))
                    .cure("hand out again the reports that it touches"),
            );
        }
    }
}
