//! `change-is-nothing`: a setting to the value it has.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "change-is-nothing",
    severity: Severity::Warning,
    family: Family::Settings,
    brief: "a setting to the value it has already",
    why: "A `set` to the value that the last `set` gave changes nothing. Either the new value is mistyped, or the line says \
          a change that was never made. To say that something was looked at and is as it was, write `read`.",
    wrong: "  set bar-hole front 2\n  set bar-hole front 2 -> 2",
    right: "  set bar-hole front 2\n  set bar-hole front 2 -> 4",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::ChangeIsNothing { entry, item, was } = *problem else { return None };
    let span = cx.item_span(entry, item);
    let slot = cx.entry(entry).quantity.map_or_else(String::new, |id| cx.slot(id, cx.item(item).place));
    let value = cx.typed(entry, cx.item(item));
    let message = format!("Nothing changes: {slot} is {value} already ({}).", cx.when(was, span));
    let message = CHECK.at(span, message);
    let message = match was.and_then(|was| cx.book.entries.get(was)) {
        Some(before) => message.and(before.span(), "set here"),
        None => message,
    };
    Some(message.cure("correct the value, or write `read` if it was only looked at"))
}
