//! `value-count`: too many or too few numbers for the places there are.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::vocabulary::Places;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "value-count",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "too many or too few numbers for the places there are",
    why: "Numbers without a place are taken in the book's order: four are LF RF LR RR, two are front and rear, as \
          many as there are cylinders are the cylinders. Any other count leaves it open which one is missing, and \
          a wrong guess shifts all the rest.",
    wrong: "  set tyre-cold 1.48 1.48 1.42 bar",
    right: "  set tyre-cold 1.48 1.48 1.42 - bar",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::ValueCount { quantity, got, wanted } = &trouble.what else { return None };
    let quantity = cx.quantity(*quantity);
    let name = &quantity.name;
    if *got == 3 && quantity.places.has(Places::CORNER) && wanted.iter().any(|way| way.starts_with('4')) {
        return Some(
            CHECK
                .at(trouble.span, format!("{name} has three numbers of four; which corner is missing?"))
                .cure("write `-` for the corner that was not read"),
        );
    }
    Some(
        CHECK
            .at(trouble.span, format!("{name} has {got} numbers here; it takes {}.", words::or(wanted)))
            .cure("name the place before each number, and write `-` for one that was not read"),
    )
}
