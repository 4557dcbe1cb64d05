//! `sum-too-fine`: more decimals than the currency has.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "sum-too-fine",
    severity: Severity::Error,
    family: Family::Money,
    brief: "a sum with more decimals than its currency has",
    why: "A bill is paid in whole cents, yen or fils (ISO 4217 says which), so a sum with more decimals is a slip, or a \
          price of one that was meant to be multiplied first. Rates of exchange and rates an hour may be finer.",
    wrong: "  cost 46.005 EUR parts \"seal, oil\"",
    right: "  cost 46.01 EUR parts \"seal, oil\"",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::SumTooFine(currency) = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let has = match currency.decimals() {
        0 => "no decimals".to_owned(),
        n => format!("{n} decimals"),
    };
    Some(
        CHECK
            .at(trouble.span, format!("{typed} {currency}: {} has {has}.", currency.name()))
            .cure("write the sum as it was paid"),
    )
}
