//! `place-wrong`: a place that the quantity does not have.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::vocabulary::Places;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "place-wrong",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a place that the quantity does not have",
    why: "Where a quantity has values is part of what it is: a camber at corners, a track on axles, a leak-down at \
          cylinders, the fuel on the car as a whole. This place is not one of them.",
    wrong: "  set fuel LF 20 L",
    right: "  set fuel 20 L",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    if let What::PlaceBeyond(has) = trouble.what {
        let typed = cx.text(trouble.span);
        let what = if typed.starts_with(['c', 'C']) { "cylinders" } else { "gears" };
        return Some(
            CHECK
                .at(trouble.span, format!("The car has {has} {what}, and no {typed}."))
                .cure(format!("correct the place, or `{what}` under the car")),
        );
    }
    let What::PlaceWrong(id) = trouble.what else { return None };
    let quantity = cx.quantity(id);
    let typed = cx.text(trouble.span);
    let car = quantity.places == Places::CAR;
    Some(if car {
        CHECK
            .at(trouble.span, format!("{} belongs to the car as a whole; it has no {typed}.", quantity.name))
            .cure(format!("leave {typed} out"))
    } else {
        CHECK
            .at(trouble.span, format!("{} goes by {}, not {typed}.", quantity.name, words::places(quantity.places)))
            .cure(format!("write one of those instead of {typed}"))
    })
}
