//! `quote-glued`: a word stuck to the end of quoted words.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::syntax::Mistake;

/// The check.
pub const CHECK: Check = Check {
    name: "quote-glued",
    severity: Severity::Error,
    family: Family::Reading,
    brief: "a word stuck to the end of quoted words",
    why: "Quoted words end at the quote, and the next word needs a blank before it. Stuck together it cannot be \
          told whether a blank was forgotten or the quote closed too early, so the line is not read.",
    wrong: "  hit RF \"gate post\"during s1",
    right: "  hit RF \"gate post\" during s1",
    look: Look::Trouble(words),
};

fn words(_: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Syntax(Mistake::QuoteGlued) = trouble.what else { return None };
    Some(
        CHECK
            .at(trouble.span, "The quoted words end here and the next word is stuck to them.")
            .here("a blank is missing after this")
            .cure("put a blank after the quote; there can be no quote inside quoted words"),
    )
}
