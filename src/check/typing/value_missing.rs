//! `value-missing`: a quantity without its value.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::place::Place;

/// The check.
pub const CHECK: Check = Check {
    name: "value-missing",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a quantity without its value",
    why: "The line names what was set or read and stops before the number. If it was not read, `-` says so; nought \
          never does.",
    wrong: "  set camber LF deg",
    right: "  set camber LF -3.2 deg",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::ValueMissing(id) = trouble.what else { return None };
    let name = &cx.quantity(id).name;
    let typed = cx.text(trouble.span);
    let place = if typed.is_empty() || Place::parse(typed).is_none() { String::new() } else { format!(" {typed}") };
    Some(
        CHECK
            .at(trouble.span, format!("{name}{place} has no value here."))
            .here("a number is missing")
            .cure("write the number and its unit, or `-` if it was not read"),
    )
}
