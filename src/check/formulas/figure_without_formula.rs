//! `figure-without-formula`: a figure without its formula.

use crate::book::trouble::FigureTrouble;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::check::phrase;

/// The check.
pub const CHECK: Check = Check {
    name: "figure-without-formula",
    severity: Severity::Error,
    family: Family::Formulas,
    brief: "a figure without its formula",
    why: "A figure says how it is worked out in a line `is`, with a line for each name of it. Without one it is only a name: declare a quantity for what is read.",
    wrong: "figure bite-index ratio car  \"how the right rear bites\"",
    right: "figure bite-index ratio car  \"how the right rear bites\"\n  is w / total\n  w = weight RR\n  total = total-weight",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Figure(figure) = &trouble.what else { return None };
    let FigureTrouble::NoFormula = figure else { return None };
    let typed = phrase::word_of(cx.text(trouble.span), trouble.span, 1);
    Some(
        CHECK
            .at(typed, format!("`{}` has no line `is`.", cx.text(typed)))
            .cure("write `is` and the formula under it, or declare a quantity"),
    )
}
