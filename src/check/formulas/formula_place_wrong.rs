//! `formula-place-wrong`: a value at a place where it is not to be had.

use crate::book::trouble::FigureTrouble;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::figure::Clash;

/// The check.
pub const CHECK: Check = Check {
    name: "formula-place-wrong",
    severity: Severity::Error,
    family: Family::Formulas,
    brief: "a value at a place where it is not to be had",
    why: "A quantity is read at corners, axles, cylinders, gears, or for the whole car, and a figure has values at such places too. A name of a formula says at which one; without a place it is the figure's own. A name of several places (`each-corner`) stands only in `mean`, `sum`, `min`, `max` and `count`.",
    wrong: "figure stagger length car\n  is c_r - c_l\n  c_r = tyre-circumference front",
    right: "figure stagger length car\n  is c_r - c_l\n  c_r = tyre-circumference RR",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Figure(figure) = &trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let (message, cure) = match figure {
        FigureTrouble::PlaceWrong { wants } => {
            (format!("`{typed}` does not go together with this place."), format!("name {wants}"))
        }
        FigureTrouble::Clash(Clash::List(_)) => (
            format!("`{typed}` is of several places, and one value is wanted here."),
            format!("write `mean({typed})`, or sum, min, max, count"),
        ),
        _ => return None,
    };
    Some(CHECK.at(trouble.span, message).cure(cure))
}
