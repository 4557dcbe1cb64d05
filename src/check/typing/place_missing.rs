//! `place-missing`: one number without a place on a quantity that has places.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::vocabulary::Places;

/// The check.
pub const CHECK: Check = Check {
    name: "place-missing",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "one number without a place on a quantity that has places",
    why: "A camber belongs to a corner and a bar hole to an axle. One bare number could be any of them; four stand \
          for LF RF LR RR and two for front and rear, but one needs its place.",
    wrong: "  set camber -3.2 deg",
    right: "  set camber LF -3.2 deg",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::PlaceMissing(id) = trouble.what else { return None };
    let quantity = cx.quantity(id);
    let typed = cx.text(trouble.span);
    Some(
        CHECK
            .at(trouble.span, format!("{} goes by {}: where is {typed}?", quantity.name, quantity.places.words()))
            .here("no place")
            .cure(format!("write the place before it: `{} {typed}`", example(quantity.places))),
    )
}

const fn example(places: Places) -> &'static str {
    if places.has(Places::CORNER) {
        "LF"
    } else if places.has(Places::AXLE) {
        "front"
    } else if places.has(Places::CYLINDER) {
        "c1"
    } else {
        "g1"
    }
}
