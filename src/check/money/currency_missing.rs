//! `currency-missing`: a sum of money without its currency.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "currency-missing",
    severity: Severity::Error,
    family: Family::Money,
    brief: "a sum of money without its currency (a warning where the shop has one)",
    why: "A sum is a number and three letters. Where the shop declares its currency, that one is taken and the line \
          counts; the book still asks, because a bill from abroad looks just the same. Where the shop declares none, \
          nobody can say what the number is worth, and it is counted nowhere.",
    wrong: "  cost 46.00 parts \"seal, oil\"",
    right: "  cost 46.00 EUR parts \"seal, oil\"",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::CurrencyMissing(own) = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let Some(own) = own else {
        return Some(
            CHECK
                .at(trouble.span, format!("{typed} of what currency, EUR or GBP? The shop sets no default."))
                .cure(format!("write `{typed} EUR`, or declare the shop's: `shop \"...\"  currency EUR`")),
        );
    };
    let message = format!("{typed} of what currency? It is taken as {own}, the shop's.");
    let said = CHECK.at(trouble.span, message).cure(format!("write `{typed} {own}`"));
    Some(Diagnostic { severity: Severity::Warning, ..said })
}
