//! `place-needed`: a part goes on, and its kind fits several places.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "place-needed",
    severity: Severity::Error,
    family: Family::Parts,
    brief: "a part goes on, and its kind fits several places",
    why: "The kind of this part fits more than one place on the car, and the line does not say which. The book \
          will not choose: hours would go to the wrong corner.",
    wrong: "  fit cp-1",
    right: "  fit cp-1 LR",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::PlaceNeeded { entry, part } = *problem else { return None };
    let span = told::part_span(cx, entry, part);
    let kind = cx.book.kind_of(part)?;
    let car = cx.car_of(entry);
    let fits = kind.fits.iter().filter(|fit| fit.on(car) && !fit.carried);
    let mut places: Vec<String> = fits.flat_map(|fit| fit.places.iter().map(|place| cx.place(*place))).collect();
    places.dedup();
    Some(
        CHECK
            .at(span, format!("Where? A {} fits {}.", kind.named.typed, words::and(&places)))
            .and(kind.named.declared, "its places")
            .cure(format!("write the place after {}", cx.part(part))),
    )
}
