//! `waiver-unused`: a waiver that answers no message.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::Span;

/// The check.
pub const CHECK: Check = Check {
    name: "waiver-unused",
    severity: Severity::Warning,
    family: Family::Book,
    brief: "a waiver that answers no message",
    why: "A `waive` line answers a warning on the line above it. When that warning is not there (any more), the waiver \
          would one day hide a real one: take it out. An error cannot be waived; put the line right.",
    wrong: "  left camber LF -3.2 deg\n    waive value-implausible because it leans",
    right: "  left camber LF -3.2 deg",
    look: Look::Runner,
};

pub(super) fn message(cx: &Context<'_>, name: Span, check: &str, is_error: bool) -> Diagnostic {
    let _ = cx;
    let words = if is_error {
        format!("`{check}` is an error; an error cannot be waived.")
    } else {
        format!("There is no `{check}` on the line above to waive.")
    };
    CHECK.at(name, words).cure(if is_error { "put the line above right" } else { "take this line out" })
}
