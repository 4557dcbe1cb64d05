//! `inside-itself`: a part built into itself.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::check::phrase;

/// The check.
pub const CHECK: Check = Check {
    name: "inside-itself",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a part built into itself",
    why: "An assembly holds other parts. A part cannot hold itself; one of the two names on the line is a slip, \
          and which one would decide whose hours are counted.",
    wrong: "  build hub-1 into hub-1",
    right: "  build wb-1 into hub-1",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::InsideItself = trouble.what else { return None };
    let text = cx.text(trouble.span);
    let line = if text.starts_with(|first: char| first.is_ascii_digit()) { 2 } else { 1 };
    let part = phrase::word_of(text, trouble.span, line);
    let name = cx.text(part);
    Some(
        CHECK
            .at(part, format!("{name} cannot be inside itself."))
            .cure("correct one of the two names: first the part, then the assembly it is in"),
    )
}
