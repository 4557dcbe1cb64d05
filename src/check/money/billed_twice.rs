//! `billed-twice`: one invoice booked twice.

use crate::check::{Check, Context, Family, Look};
use crate::costs::problem::Problem;
use crate::diagnostics::{Diagnostic, Severity};
use crate::syntax::unquote;

/// The check.
pub const CHECK: Check = Check {
    name: "billed-twice",
    severity: Severity::Error,
    family: Family::Money,
    brief: "one invoice of one source, booked on two days or typed twice",
    why: "An invoice has one date. Its lines stand under that day, as many as it has and for as many cars; the same \
          number from the same source on another day is the same bill paid a second time, most often once from the \
          delivery note and once from the envelope.",
    wrong: "2026-05-11 heron\n  cost 46.00 EUR parts  from \"the bearing shop\"  invoice \"2026-077\"\n2026-05-20 heron\n  \
            cost 46.00 EUR parts  from \"the bearing shop\"  invoice \"2026-077\"",
    right: "2026-05-11 heron\n  cost 46.00 EUR parts  from \"the bearing shop\"  invoice \"2026-077\"\n2026-05-20 heron\n  \
            cost 46.00 EUR parts  from \"the bearing shop\"  invoice \"2026-081\"",
    look: Look::Cost(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::BilledTwice { entry, first } = *problem else { return None };
    let span = cx.entry(entry).span();
    let extra = cx.book.extra(cx.entry(entry))?;
    let own = extra.costs.as_ref().and_then(|facts| facts.invoice);
    let invoice = own.or_else(|| extra.parts.as_ref().and_then(|facts| facts.invoice))?;
    let number = unquote(cx.text(invoice));
    Some(
        CHECK
            .at(invoice, format!("Invoice {number} was booked before ({}).", cx.when(first, span)))
            .and(cx.entry(first).span(), "booked here")
            .cure("take one of the two out, or correct the number; lines of one invoice stand under one day"),
    )
}
