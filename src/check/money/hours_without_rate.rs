//! `hours-without-rate`: hours that nothing says the price of.

use crate::check::{Check, Context, Family, Look};
use crate::costs::problem::Problem;
use crate::diagnostics::{Diagnostic, Severity};
use crate::money::Currency;

/// The check.
pub const CHECK: Check = Check {
    name: "hours-without-rate",
    severity: Severity::Warning,
    family: Family::Money,
    brief: "hours, and no rate an hour on the line, the job, the client or the shop",
    why: "Work has a price an hour: the line's own `rate`, else its job's, else the client's, else the shop's. Without any \
          of them the hours are counted and the labour is not known, so that every total over it is only \"at least\". \
          Hours that are not to be charged are `unbilled`.",
    wrong: "shop \"Hollin Lane\"  currency EUR\n...\n  hours 2.25 h \"seal\"",
    right: "shop \"Hollin Lane\"  currency EUR  rate 58.00 EUR\n...\n  hours 2.25 h \"seal\"",
    look: Look::Cost(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::HoursWithoutRate { entry, more } = *problem else { return None };
    let own = cx.costs.home.map_or("EUR", Currency::code);
    let others = match more {
        0 => String::new(),
        more => format!(", as {}", crate::words::count(more, "more line", "more lines")),
    };
    Some(
        CHECK
            .at(cx.entry(entry).span(), format!("What does an hour cost? This line has no rate{others}."))
            .cure(format!("give the shop one, `rate 58.00 {own}`, or the client, the job or the line; or write `unbilled`")),
    )
}
