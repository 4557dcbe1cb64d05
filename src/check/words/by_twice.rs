//! `by-twice`: two gauges or people after `by`, where one can stand.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "by-twice",
    severity: Severity::Error,
    family: Family::Words,
    brief: "two gauges or people after `by`, where one can stand",
    why: "A reading is by one gauge or one person, and a session by one driver: whose it then was could only be guessed. Several drivers \
          of one session each have a `stint` line under its `run`, with their own minutes. The rest of the line counts.",
    wrong: "  10:00..11:30 run race  by ned, orr",
    right: "  10:00..11:30 run race\n    10:00..10:50 stint ned\n    10:50..11:30 stint orr",
    look: Look::Trouble(words),
};

fn words(_: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::ByTwice(first) = trouble.what else { return None };
    let message = CHECK
        .at(trouble.span, "one gauge or person can stand after `by`, and this is a second; neither is taken.".to_owned())
        .and(first, "the first");
    Some(message.cure("leave one; several drivers of one session each have a line under its `run`: `10:05..10:52 stint NAME`"))
}
