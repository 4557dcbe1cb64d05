//! `currency-unknown`: money without a currency that exists.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::money::is_code;

/// The check.
pub const CHECK: Check = Check {
    name: "currency-unknown",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "money without a currency that exists",
    why: "Money is a number and the three letters of its currency in ISO 4217: EUR, GBP, USD and so on. A shop \
          that buys abroad has sums in several, and adding pounds to euros would be found only at the year's end.",
    wrong: "  buy cp-3 38.00 euros",
    right: "  buy cp-3 38.00 EUR",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::CurrencyBad = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let own = cx.book.shop.currency.as_deref().unwrap_or("EUR");
    if is_code(typed) {
        return Some(
            CHECK
                .at(trouble.span, format!("{typed} stands before its sum."))
                .cure(format!("write the sum first: `38.00 {typed}`")),
        );
    }
    if typed.starts_with(|first: char| first.is_ascii_digit()) {
        return Some(
            CHECK
                .at(trouble.span, format!("{typed} of what currency? Its three letters must follow, such as {own}."))
                .cure(format!("write `{typed} {own}`")),
        );
    }
    let message = if typed.is_empty() {
        CHECK.at(trouble.span, "A sum of money is missing here.")
    } else {
        CHECK.at(trouble.span, format!("`{typed}` is no currency."))
    };
    Some(message.cure(format!("write the three letters of ISO 4217, such as {own}; a sum is `38.00 {own}`")))
}
