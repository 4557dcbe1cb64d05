//! `arrow-misplaced`: an arrow that does not stand between an old and a new value.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::Span;

/// The check.
pub const CHECK: Check = Check {
    name: "arrow-misplaced",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "an arrow that does not stand between an old and a new value",
    why: "`->` stands once between what was and what is: the old and new value of `set`, the part that came off \
          and the one that went on of `swap`, the part and where it went of `move`. Readings and changes have no \
          old value.",
    wrong: "  adjust bar-hole rear 2 -> 3",
    right: "  set bar-hole rear 2 -> 3",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::ArrowBad = trouble.what else { return None };
    let text = cx.text(trouble.span);
    // A line about parts is given whole: point at its arrow.
    let span = match text.find("->").or_else(|| text.find('\u{2192}')) {
        Some(at) => {
            let start = trouble.span.start + at as u32;
            let len = if text.split_at(at).1.starts_with("->") { 2 } else { '\u{2192}'.len_utf8() as u32 };
            Span::new(trouble.span.file, start, start + len)
        }
        None => trouble.span,
    };
    Some(
        CHECK
            .at(span, "An arrow stands once, between the old and the new: in `set`, `swap` and `move`.")
            .cure("write `set QUANTITY PLACE OLD -> NEW`, with `?` for an old value nobody knows; or leave the arrow out"),
    )
}
