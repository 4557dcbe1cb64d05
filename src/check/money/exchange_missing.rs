//! `exchange-missing`: sums in a currency that no rate takes into the shop's.

use crate::check::{Check, Context, Family, Look};
use crate::costs::problem::Problem;
use crate::diagnostics::{Diagnostic, Severity};
use crate::money::Currency;

/// The check.
pub const CHECK: Check = Check {
    name: "exchange-missing",
    severity: Severity::Note,
    family: Family::Money,
    brief: "sums in another currency than the shop's, and no rate of exchange for their day",
    why: "Two currencies are never added. A stated rate, with the day from which it counts, turns each line into the \
          shop's own; without one the totals of each stand side by side.",
    wrong: "  cost 120.00 GBP parts \"wheel nuts\"",
    right: "exchange GBP 1.1725 EUR from 2026-03-01\n...\n  cost 120.00 GBP parts \"wheel nuts\"",
    look: Look::Cost(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::ExchangeMissing { entry, currency, more } = *problem else { return None };
    let home = cx.costs.home.map_or("EUR", Currency::code);
    let day = cx.date(entry).map_or_else(String::new, |day| day.to_string());
    let others = match more {
        0 => String::new(),
        more => format!(" ({})", crate::words::count(more, "more line", "more lines")),
    };
    let message = if cx.costs.home.is_some() {
        format!("No rate takes {currency} into {home} on {day}; its totals stay apart{others}.")
    } else {
        format!("{currency} is another currency than the lines before; its totals stay apart{others}.")
    };
    Some(
        CHECK
            .at(cx.entry(entry).span(), message)
            .cure(format!("state one, at the margin: `exchange {currency} RATE {home} from {day}`")),
    )
}
