//! `click-datum-differs`: clicks from the other end, of a damper whose number of clicks is not known.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "click-datum-differs",
    severity: Severity::Error,
    family: Family::Settings,
    brief: "clicks from the other end than before, of a damper whose number of clicks is not known",
    why: "A count from one end is turned into a count from the other only when the book knows how many clicks there are. Here \
          it does not, so the two numbers cannot be compared. Count from one end, or declare a kind with its `clicks`, and \
          fit the dampers by name.",
    wrong: "  set rebound front 9 click from full-hard\n  set rebound front 12 click from full-soft",
    right: "  set rebound front 9 click from full-hard\n  set rebound front 8 click from full-hard",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::ClickDatumDiffers { entry, item, was } = *problem else { return None };
    let span = cx.item_span(entry, item);
    let slot = cx.entry(entry).quantity.map_or_else(String::new, |id| cx.slot(id, cx.item(item).place));
    let hard = cx.book.extra(cx.entry(entry)).and_then(|extra| extra.from_hard).unwrap_or_default();
    let (here, there) = if hard { ("hard", "soft") } else { ("soft", "hard") };
    let mut message = CHECK
        .at(
            span,
            format!(
                "{slot} was counted from full {there} so far; this is from full {here}, and the book does not know how many \
                 clicks there are."
            ),
        )
        .cure(format!("count from full-{there}, or declare the dampers' kind with its `clicks`"));
    if let Some(before) = was.and_then(|was| cx.book.entries.get(was)) {
        message = message.and(before.span(), "counted from the other end");
    }
    Some(message)
}
