//! `used-before-bought`: a part is used before the line that buys it.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "used-before-bought",
    severity: Severity::Warning,
    family: Family::Parts,
    brief: "a part is used before the line that buys it",
    why: "The line says when the part came into the shop, yet an earlier line already uses it. One of the two \
          dates is wrong, or two parts share a name.",
    wrong: "2026-05-03 heron\n  fit cp-3 LR\n2026-05-10\n  buy cp-3",
    right: "2026-05-01\n  buy cp-3\n2026-05-03 heron\n  fit cp-3 LR",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::UsedBeforeBought { entry, part, used } = *problem else { return None };
    let span = told::part_span(cx, entry, part);
    let name = cx.part(part);
    Some(
        CHECK
            .at(span, format!("{name} is bought here, but it was in use before ({}).", cx.when(used, span)))
            .and(cx.entry(used).span(), "used here")
            .cure("correct one of the two dates, or give the second part a name of its own"),
    )
}
