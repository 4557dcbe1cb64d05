//! `meter-went-back`: a meter that only goes up reads less than before.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "meter-went-back",
    severity: Severity::Error,
    family: Family::Sessions,
    brief: "a meter that only goes up reads less than before",
    why: "An hour meter cannot go back. Either a digit was mistyped, here or the time before, or there is a new \
          meter; a `set` tells the book that it starts anew from there, and the hours before it are kept.",
    wrong: "  read engine-hours 61.3 h\n  read engine-hours 58.1 h",
    right: "  read engine-hours 61.3 h\n  set engine-hours 0 h  because new meter\n  read engine-hours 1.1 h",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::CounterWentBack { entry, item, was, was_item } = *problem else { return None };
    let span = cx.item_span(entry, item);
    let what = cx.entry(entry).quantity.map_or("The meter", |id| &cx.quantity(id).name);
    let before = cx.typed(was, cx.item(was_item));
    Some(
        CHECK
            .at(span, format!("{what} read {before} ({}); now {}.", cx.when(was, span), cx.typed(entry, cx.item(item))))
            .and(cx.entry(was).span(), format!("{before} here"))
            .cure(format!("correct the reading; for a new meter write `set {what} ...` first")),
    )
}
