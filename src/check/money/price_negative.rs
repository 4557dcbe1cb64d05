//! `price-negative`: a sum of money, or a time worked, below zero.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::Span;

/// The check.
pub const CHECK: Check = Check {
    name: "price-negative",
    severity: Severity::Error,
    family: Family::Money,
    brief: "a sum of money or a time worked below zero",
    why: "Money that comes back has a verb of its own, so that a slip of the minus key is never booked as a gift: \
          `credit` for what a supplier returns, `sell` for what a part brings.",
    wrong: "  cost -25.00 EUR parts \"core returned\"",
    right: "  credit 25.00 EUR parts \"core returned\"",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::SumNegative = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let plain = typed.trim_start_matches(['-', '\u{2212}']);
    Some(
        CHECK
            .at(trouble.span, format!("{typed} is below zero."))
            .cure(if pays(cx, trouble.span) {
                format!("write {plain}; what was paid back to him has `back` behind it")
            } else {
                format!("write {plain}; money that comes back is a `credit`")
            }),
    )
}

/// Whether it stands on a line of what a client paid.
fn pays(cx: &Context<'_>, span: Span) -> bool {
    let text = cx.files.get(span.file).map_or("", |file| &*file.text);
    let before = text.get(..span.start as usize).and_then(|before| before.rsplit('\n').next()).unwrap_or_default();
    before.split_whitespace().take(2).any(|word| word.eq_ignore_ascii_case("paid"))
}
