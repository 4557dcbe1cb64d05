//! `not-ours`: a part that belongs to somebody else is lent, sold, or goes on another's car.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "not-ours",
    severity: Severity::Error,
    family: Family::Parts,
    brief: "a part that belongs to somebody else is lent, sold, or goes on another's car",
    why: "What was borrowed goes back to its lender, or is bought; it is not the shop's to lend or to sell. A part that is a \
          client's own goes on his cars alone.",
    wrong: "  borrow cp-9 from \"the coupling people\"\n  sell cp-9 40.00 EUR",
    right: "  borrow cp-9 from \"the coupling people\"\n  buy cp-9 38.00 EUR\n  sell cp-9 40.00 EUR",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::NotOurs { entry, part, since } = *problem else { return None };
    let span = told::part_span(cx, entry, part);
    let name = cx.part(part);
    let declared = &cx.book.parts[part];
    Some(match (since, declared.owner) {
        (Some(since), _) => CHECK
            .at(span, format!("{name} is borrowed since {}.", cx.when(since, span)))
            .and(cx.entry(since).span(), "borrowed here")
            .cure(format!("write `buy {name}` where it was kept, or `return {name}` where it went back")),
        (None, owner) => {
            let whose = owner.map_or("a client", |owner| &cx.book.clients[owner].named.typed);
            CHECK
                .at(span, format!("{name} is {whose}'s own, and no part for another's car, to lend or to sell on."))
                .and(declared.named.declared, "declared here")
                .cure(format!("use another part, or write `buy {name}` where the shop bought it"))
        }
    })
}
