//! `sold-before-bought`: a car or a part is sold before the line that buys it.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::{Problem, Sold};

/// The check.
pub const CHECK: Check = Check {
    name: "sold-before-bought",
    severity: Severity::Error,
    family: Family::Sessions,
    brief: "a car or a part is sold before the line that buys it",
    why: "Nothing can leave the shop before it came in, so one of the two dates is wrong, or the two lines are about different \
          things. What it had run before it was bought belongs in its declaration (`opening`).",
    wrong: "2026-03-01\n  sell cp-1 20.00 EUR to orr\n2026-04-02\n  buy cp-1 38.00 EUR",
    right: "2026-03-01\n  buy cp-1 38.00 EUR\n2026-04-02\n  sell cp-1 20.00 EUR to orr",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::SoldBeforeBought { entry, what, bought } = *problem else { return None };
    let name = match what {
        Sold::Car(car) => cx.car(car),
        Sold::Part(part) => cx.part(part),
    };
    let span = cx.entry(entry).span();
    Some(
        CHECK
            .at(span, format!("{name} is sold here and bought only on {}.", cx.when(bought, span)))
            .and(cx.entry(bought).span(), "bought here")
            .cure("correct one of the two dates, or the name"),
    )
}
