//! `rule-ends-before-start`: a rule whose last day is before its first.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "rule-ends-before-start",
    severity: Severity::Error,
    family: Family::Rules,
    brief: "a rule ends before it starts",
    why: "Such a rule is in force on no day, and nothing is judged by it. One of its two dates is mistyped, or they changed \
          places.",
    wrong: "rule clearance class SR-2  ride-height min 48 mm  from 2026-08-01 until 2026-07-31",
    right: "rule clearance class SR-2  ride-height min 48 mm  from 2026-08-01 until 2027-07-31",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for rule in cx.book.rules.iter().filter(|rule| !rule.broken) {
        let (Some((from, first)), Some((until, last))) = (rule.from, rule.until) else { continue };
        if until < from {
            out.push(
                CHECK
                    .at(last, format!("{} ends on {until}, before it starts on {from}.", rule.named.typed))
                    .and(first, "its first day")
                    .cure("correct one of the two"),
            );
        }
    }
}
