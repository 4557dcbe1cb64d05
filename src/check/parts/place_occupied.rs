//! `place-occupied`: a part goes where another one is.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::parts::Where;
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "place-occupied",
    severity: Severity::Error,
    family: Family::Parts,
    brief: "a part goes where another one is",
    why: "Two parts of one kind cannot share a place. Either the old one came off and nobody wrote it, or the new \
          one went somewhere else. The new part counts as fitted from this line, since that is what the crew says \
          is there now, and the old one is taken to be on the shelf; what either of them ran from here on is not known.",
    wrong: "  fit cp-1 LR\n  fit cp-2 LR",
    right: "  fit cp-1 LR\n  swap coupling LR cp-1 -> cp-2",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::PlaceOccupied { entry, holds, since } = *problem else { return None };
    let span = cx.entry(entry).span();
    let name = cx.part(holds);
    let place = match told::put_by(cx, holds, since) {
        Some(Where::Car(car, place)) => format!("{} {}", cx.car(car), cx.place(place)),
        _ => "That place".to_owned(),
    };
    Some(
        CHECK
            .at(span, format!("{} holds {name} (since {}).", place.trim_end(), cx.when(since, span)))
            .and(cx.entry(since).span(), format!("{name} went on here"))
            .cure(format!("`remove {name}` first, write `swap {} ... {name} -> ...`, or correct the place", cx.kind_of(holds))),
    )
}
