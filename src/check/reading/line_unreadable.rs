//! `line-unreadable`: a line that cannot be read.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::Span;
use crate::syntax::Mistake;

/// The check.
pub const CHECK: Check = Check {
    name: "line-unreadable",
    severity: Severity::Error,
    family: Family::Reading,
    brief: "a line that cannot be read",
    why: "A line is words, numbers and quoted words with blanks between them. The usual cause is a comma with \
          nothing before it, or something stuck to a date. Only this line is left out; its neighbours are read.",
    wrong: "  say entry push , exit neutral",
    right: "  say entry push, exit neutral",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Syntax(Mistake::Unreadable) = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let before = Span::new(trouble.span.file, trouble.span.start.saturating_sub(1), trouble.span.start);
    let spaced = cx.text(before).trim().is_empty();
    Some(if typed == "," {
        CHECK
            .at(trouble.span, "This comma separates nothing, so the line is not read.")
            .cure(if spaced { "take it out, or put it straight after the word it follows" } else { "take it out" })
    } else {
        CHECK
            .at(trouble.span, format!("`{typed}` cannot be read."))
            .cure("put blanks between words, and quotes round free words")
    })
}
