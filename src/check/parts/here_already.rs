//! `here-already`: a part is bought or borrowed that is in the shop.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "here-already",
    severity: Severity::Warning,
    family: Family::Parts,
    brief: "a part is bought or borrowed that is in the shop",
    why: "A part with a name of its own is one piece, and comes once. When it comes again with nothing said of its going, \
          it is another piece, or the line is a second copy of the first.",
    wrong: "  buy cp-3 38.00 EUR\n  buy cp-3 38.00 EUR",
    right: "  buy cp-3 38.00 EUR\n  buy cp-4 38.00 EUR",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::HereAlready { entry, part, came } = *problem else { return None };
    let span = told::part_span(cx, entry, part);
    let (name, again) = (cx.part(part), cx.entry(entry).verb);
    let done = if again == crate::book::entry::Verb::Buy { "bought twice" } else { "borrowed, and is here already" };
    Some(
        CHECK
            .at(span, format!("{name} is {done} ({}).", cx.when(came, span)))
            .and(cx.entry(came).span(), "here since this line")
            .cure("give the second part a name of its own, or take out one of the two lines"),
    )
}
