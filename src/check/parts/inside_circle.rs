//! `inside-circle`: a part would be inside itself.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "inside-circle",
    severity: Severity::Error,
    family: Family::Parts,
    brief: "a part would be inside itself",
    why: "The assembly that the part is to go into is, through one piece or several, inside that very part. The \
          two names have been swapped, or an earlier `build` has the wrong one.",
    wrong: "  build wb-1 into hub-1\n  build hub-1 into wb-1",
    right: "  build wb-1 into hub-1",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::InsideCircle { entry, part } = *problem else { return None };
    let span = told::part_span(cx, entry, part);
    let name = cx.part(part);
    let into = cx.book.extra(cx.entry(entry)).and_then(|extra| extra.parts.as_ref()).and_then(|facts| facts.other);
    let into = into.filter(|into| *into != part).map(|into| cx.part(into));
    let message = into.map_or_else(
        || format!("{name} cannot go into itself."),
        |into| format!("{name} cannot go into {into}: {into} is inside {name}."),
    );
    Some(CHECK.at(span, message).cure("correct one of the two names"))
}
