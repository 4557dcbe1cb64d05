//! `waiver-unknown`: a waiver of a check that does not exist.

use crate::check::{Check, Context, Family, Look, near};
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::Span;
use crate::words::did_you_mean;

/// The check.
pub const CHECK: Check = Check {
    name: "waiver-unknown",
    severity: Severity::Warning,
    family: Family::Book,
    brief: "a waiver of a check that does not exist",
    why: "A `waive` line names the check it answers, as it stands in brackets in the message. This name is none, so \
          the waiver answers nothing.",
    wrong: "    waive value-implausable because bent on purpose",
    right: "    waive value-implausible because bent on purpose",
    look: Look::Runner,
};

pub(super) fn message(cx: &Context<'_>, name: Span) -> Diagnostic {
    let typed = cx.text(name);
    let message = CHECK.at(name, format!("No check is called `{typed}`."));
    match near(typed) {
        Some(near) => message.cure(did_you_mean(near)),
        None => message.cure("copy the name from the message, in the brackets"),
    }
}
