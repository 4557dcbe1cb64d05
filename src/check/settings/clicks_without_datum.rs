//! `clicks-without-datum`: a number of clicks without saying from which end.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "clicks-without-datum",
    severity: Severity::Error,
    family: Family::Settings,
    brief: "a number of clicks without saying from which end",
    why: "Nine clicks from full hard and nine from full soft are two different dampers. Say it on the line, or once on the \
          kind (`clicks 0..20 from full-hard`); then a bare number is enough for every damper of that kind that is fitted by \
          name. A change (`adjust ... -2 click`) needs no end.",
    wrong: "  set rebound front 9",
    right: "  set rebound front 9 click from full-soft",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::ClicksWithoutDatum { entry, item, part } = *problem else { return None };
    let typed = cx.text(cx.item_span(entry, item));
    let range = part.and_then(|part| {
        let (low, high) = cx.book.kind_of(part)?.clicks?;
        Some(format!(" {} has {}.", cx.part(part), high - low))
    });
    Some(
        CHECK
            .at(
                cx.item_span(entry, item),
                format!("{typed} clicks from full hard or full soft?{}", range.unwrap_or_default()),
            )
            .cure("end the line with `from full-hard` or `from full-soft`, or say it once on the kind"),
    )
}
