//! `pull-not-there`: a part comes off a place where it is not.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::parts::Where;
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "pull-not-there",
    severity: Severity::Error,
    family: Family::Parts,
    brief: "a part comes off, or is looked at in, a place where it is not",
    why: "The line takes a part off a place, a car or an assembly where the book does not have it. A digit was \
          misread, or an earlier line is missing; until that is clear, the hours of two parts are in doubt. What \
          the line puts on counts as fitted; a part that was only to come off stays where the book had it. A line that looks at a part \
          under the head of a car that it is not on, or in another place (`failed`, `inspect`), is asked about too, and believed of neither.",
    wrong: "  fit cp-1 LR\n  swap coupling RR cp-1 -> cp-2",
    right: "  fit cp-1 LR\n  swap coupling LR cp-1 -> cp-2",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::PullNotThere { entry, part, there, since } = *problem else { return None };
    let span = told::part_span(cx, entry, part);
    let name = cx.part(part);
    let message = match since {
        Some(since) => format!("{name} is not there: it is {} (since {}).", cx.place_words(there), cx.when(since, span)),
        None => format!("{name} is not there: no line of the book has put it anywhere yet."),
    };
    let diagnostic = CHECK.at(span, message).cure(match there {
        Where::Car(..) | Where::Inside(_) => "correct the part, the place or the car".to_owned(),
        _ => format!("correct the part; if {name} was there, the line that fits it is missing"),
    });
    Some(match since {
        Some(since) => diagnostic.and(cx.entry(since).span(), "put there here"),
        None => diagnostic,
    })
}
