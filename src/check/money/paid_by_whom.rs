//! `paid-by-whom`: a payment, and nothing says who paid.

use crate::check::{Check, Context, Family, Look};
use crate::costs::problem::Problem;
use crate::diagnostics::{Diagnostic, Severity};
use crate::words::and;

/// The check.
pub const CHECK: Check = Check {
    name: "paid-by-whom",
    severity: Severity::Error,
    family: Family::Money,
    brief: "a payment, and nothing says who paid",
    why: "A payment belongs to one client: whom the line names, else whoever owned the car of its job when that was opened, else whoever \
          owns the car of its head. A payment of nobody would be in no account, and somebody would be asked for the sum again. On a \
          job that is booked to two clients, the car having been sold meanwhile, the line has to say which of them paid.",
    wrong: "2026-05-03\n  paid 400.00 EUR",
    right: "2026-05-03\n  paid orr 400.00 EUR",
    look: Look::Cost(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    match problem {
        Problem::PaidByNobody { entry } => Some(
            CHECK
                .at(cx.entry(*entry).span(), "Who paid? The line names no client, no job and no car of one.")
                .cure("write the client after `paid`, or `on` and the job"),
        ),
        Problem::PaidBySeveral { entry, clients } => {
            let names = clients.iter().filter_map(|client| cx.book.clients.get(*client));
            let names: Vec<String> = names.map(|client| client.named.typed.to_string()).collect();
            let whose = and(&names);
            Some(
                CHECK
                    .at(cx.entry(*entry).span(), format!("Who paid? The job is booked to {whose}."))
                    .cure("write the client after `paid`"),
            )
        }
        _ => None,
    }
}
