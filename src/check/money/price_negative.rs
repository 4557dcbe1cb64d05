//! `price-negative`: a sum of money, or a time worked, below zero.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

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
            .cure(format!("write {plain}; money that comes back is a `credit`")),
    )
}
