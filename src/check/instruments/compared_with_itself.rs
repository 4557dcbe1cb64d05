//! `compared-with-itself`: one gauge on both sides of a comparison.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "compared-with-itself",
    severity: Severity::Error,
    family: Family::Instruments,
    brief: "a gauge held against itself",
    why: "A comparison says by how much two gauges differ, or one gauge and a value that is known. One gauge read twice says how well it \
          repeats, which its `repeats` states.",
    wrong: "  compare pg-1 1.62 pg-1 1.57 bar",
    right: "  compare pg-1 1.62 pg-2 1.57 bar",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::ComparedWithItself(gauge) = trouble.what else { return None };
    let gauge = cx.book.gauges.get(gauge)?;
    let name = &gauge.named.typed;
    Some(
        CHECK
            .at(trouble.span, format!("{name} is held against itself."))
            .and(gauge.named.declared, "the gauge")
            .cure("name the other gauge, or `reference` and the value that is known"),
    )
}
