//! `day-order-unclear`: two blocks of one day touch one thing, and no times decide.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "day-order-unclear",
    severity: Severity::Error,
    family: Family::Settings,
    brief: "two blocks of one day touch the same thing and no times decide which came first",
    why: "Within a file the order of the lines is the order in the shop. Between two files only clock times can tell, and the \
          result depends on it: which value is on the car, which reading came before the change. The book does not guess; \
          the slot is unknown until it is said again.",
    wrong: "  (corwin.sline)  2026-05-30 bittern\n    set camber LF -3.2 deg\n  (maud.sline)  2026-05-30 bittern\n    found camber LF -2.9 deg",
    right: "  (corwin.sline)  2026-05-30 14:00 bittern\n    set camber LF -3.2 deg\n  (maud.sline)  2026-05-30 09:00 bittern\n    found camber LF -2.9 deg",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::OrderUnclear { first, second } = *problem else { return None };
    let (other, span) = (cx.entry(first), cx.entry(second).span());
    let name = cx.entry(second).quantity.map_or_else(
        || {
            let facts = cx.book.extra(cx.entry(second)).and_then(|extra| extra.parts.as_ref());
            let kind = facts.and_then(|facts| cx.book.kinds.get(facts.kind?));
            let kind = kind.map_or("one part", |kind| &*kind.named.typed);
            cx.entry(second).part().map_or(kind, |part| cx.part(part)).to_owned()
        },
        |id| cx.quantity(id).name.to_string(),
    );
    Some(
        CHECK
            .at(
                span,
                format!(
                    "Two blocks of one day touch {name}, here and at {}, and no times decide which came first.",
                    cx.when(first, span)
                ),
            )
            .and(other.span(), "the other block")
            .cure("put a time on both lines or heads, or move one block into the other's file"),
    )
}
