//! `orphan-line`: an indented line with nothing above it to belong to.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "orphan-line",
    severity: Severity::Error,
    family: Family::Reading,
    brief: "an indented line with nothing above it to belong to",
    why: "Indented lines belong to the line above them that stands further left: a dated head or a declaration. At \
          the top of a file there is none, and a note at the margin cuts the lines under it off from their date. \
          What is said here belongs to no day and no car, so it is not read.",
    wrong: "  set fuel 20 L\n\n2025-05-03 heron",
    right: "2025-05-03 heron\n  set fuel 20 L",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Orphan = trouble.what else { return None };
    Some(if cx.text(trouble.span).starts_with('|') {
        CHECK
            .at(trouble.span, "A note at the margin belongs to no day and cuts off the lines under it.")
            .cure("indent the note under its date")
    } else {
        CHECK
            .at(trouble.span, "There is nothing above this line that it can belong to.")
            .cure("put a line such as `2026-04-18 CAR` above it, at the margin")
    })
}
