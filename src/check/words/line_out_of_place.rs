//! `line-out-of-place`: a line that only makes sense under another.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "line-out-of-place",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a line that only makes sense under another",
    why: "Some lines answer or complete the line above them and are indented deeper: `points` under `bench`, \
          `sweep` under a caster reading, `void` and `waive` under what they speak of. Standing elsewhere it \
          cannot be told what they belong to.",
    wrong: "  found caster  by cg-1\n  sweep LF 20 deg inner 1.4 outer -2.0",
    right: "  found caster  by cg-1\n    sweep LF 20 deg inner 1.4 outer -2.0",
    look: Look::Trouble(words),
};

fn words(_: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::OutOfPlace { line, under } = trouble.what else { return None };
    Some(
        CHECK
            .at(trouble.span, format!("`{line}` belongs under {}.", under.trim_end_matches(", indented deeper")))
            .cure("move it straight below that line and indent it deeper"),
    )
}
