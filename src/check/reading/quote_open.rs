//! `quote-open`: quoted words that never end.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::Span;
use crate::syntax::Mistake;

/// The check.
pub const CHECK: Check = Check {
    name: "quote-open",
    severity: Severity::Error,
    family: Family::Reading,
    brief: "quoted words that never end",
    why: "Words in quotes run to the next quote on the same line. Without it the rest of the line would be \
          swallowed, numbers and all, so the line is not read. A note longer than a line goes into a note line, \
          which starts with `|`. An inch is written `in`: the inch mark is a quote here.",
    wrong: "  say entry push \"washes wide",
    right: "  say entry push \"washes wide\"",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Syntax(Mistake::QuoteOpen) = trouble.what else { return None };
    let span = trouble.span;
    let before = Span::new(span.file, span.start.saturating_sub(1), span.start);
    let inch = cx.text(before).bytes().all(|byte| byte.is_ascii_digit()) && !cx.text(before).is_empty();
    let message = CHECK.at(span, "The quote that opens here never closes, so this line is not read.");
    Some(if inch {
        message.cure("for inches write `in`; quotes are for words")
    } else {
        message.cure("close it with another quote; a longer note goes on lines that start with `|`")
    })
}
