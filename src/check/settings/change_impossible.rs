//! `change-impossible`: a change that leads to what cannot be.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;
use crate::words::normal;

/// The check.
pub const CHECK: Check = Check {
    name: "change-impossible",
    severity: Severity::Error,
    family: Family::Settings,
    brief: "a change that leads to what cannot be",
    why: "What an `adjust` leads to is held to what is possible, as if it had been set: beyond it the change has a slip of the finger \
          or another unit. What stands there is then not known. What a car or a class has beyond the limits its `possible` line says.",
    wrong: "  set camber -3.0 -3.0 -2.0 -2.0 deg\n  adjust camber LF -20 deg",
    right: "  set camber -3.0 -3.0 -2.0 -2.0 deg\n  adjust camber LF -0.2 deg",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::ChangeImpossible { entry, item, value, limits } = *problem else { return None };
    let id = cx.entry(entry).quantity?;
    let (quantity, typed) = (cx.quantity(id), cx.item(item));
    let range = normal::range(&limits, normal::unit(quantity, typed.unit()));
    let whose = normal::whose(cx.book, limits.says);
    let (slot, to) = (cx.slot(id, typed.place), cx.value_like(value, entry, typed));
    Some(
        CHECK
            .at(cx.item_span(entry, item), format!("{slot} would be {to}: {} runs from {range}{whose}.", quantity.name))
            .cure("correct the change or its unit; `set` states the value itself"),
    )
}
