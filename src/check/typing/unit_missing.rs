//! `unit-missing`: a number without a unit where the quantity needs one.

use crate::check::{Check, Context, Family, Look};
use crate::book::{Trouble, What};
use crate::diagnostics::{Diagnostic, Severity};
use crate::units::units_for;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "unit-missing",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a number without a unit where the quantity needs one",
    why: "Mixed-up units are the commonest error of a shop that owns gauges in two systems, so every number that can \
          have a unit must have one. One unit at the end of the line covers all the numbers before it.",
    wrong: "  set spring-rate front 70 -> 80",
    right: "  set spring-rate front 70 -> 80 N/mm",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::UnitMissing(id) = trouble.what else { return None };
    let quantity = cx.quantity(id);
    let units = words::or(units_for(quantity.dimension));
    let number = cx.text(trouble.span);
    Some(
        CHECK
            .at(trouble.span, format!("{} needs a unit after {number}: {units}?", quantity.name))
            .here("no unit")
            .cure(format!("write {number} and its unit; one at the end covers the numbers before it")),
    )
}
