//! `paid-by-whom`: a payment, and nothing says who paid.

use crate::check::{Check, Context, Family, Look};
use crate::costs::problem::Problem;
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "paid-by-whom",
    severity: Severity::Error,
    family: Family::Money,
    brief: "a payment, and nothing says who paid",
    why: "A payment belongs to one client: whom the line names, else whoever owns the car of its job or of its head. A \
          payment of nobody would be in no account, and somebody would be asked for the sum again.",
    wrong: "2026-05-03\n  paid 400.00 EUR",
    right: "2026-05-03\n  paid orr 400.00 EUR",
    look: Look::Cost(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::PaidByNobody { entry } = *problem else { return None };
    Some(
        CHECK
            .at(cx.entry(entry).span(), "Who paid? The line names no client, no job and no car of one.")
            .cure("write the client after `paid`, or `on` and the job"),
    )
}
