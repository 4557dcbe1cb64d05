//! `currency-unknown`: money without a currency that exists.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::money::Currency;

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
    let own = cx.book.shop.currency.map_or("EUR", Currency::code);
    if Currency::find(typed).is_some() {
        return Some(
            CHECK
                .at(trouble.span, format!("{typed} stands before its sum."))
                .cure(format!("write the sum first: `38.00 {typed}`")),
        );
    }
    if let Some(sum) = typed.strip_prefix(['\u{A3}', '$', '\u{20AC}']) {
        let message = format!("`{typed}` has its currency as a mark, and several currencies share those.");
        return Some(CHECK.at(trouble.span, message).cure(format!("write the sum and its code: `{sum} {own}`")));
    }
    let message = if typed.is_empty() {
        CHECK.at(trouble.span, "A sum of money is missing here.")
    } else {
        CHECK.at(trouble.span, format!("`{typed}` is no currency."))
    };
    Some(message.cure(format!("write the three letters of ISO 4217, such as {own}; a sum is `38.00 {own}`")))
}
