//! `clicks-beyond-range`: more clicks than the damper has.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::entry::Verb;
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "clicks-beyond-range",
    severity: Severity::Error,
    family: Family::Settings,
    brief: "more clicks than the damper has",
    why: "The kind says how many clicks its dampers have. A number beyond that was mistyped or counted from the other end, \
          so the book does not know how the damper is set until it is said again.",
    wrong: "  set rebound LF 24 click from full-soft",
    right: "  set rebound LF 14 click from full-soft",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::ClicksBeyondRange { entry, item, part } = *problem else { return None };
    let (name, kind) = (cx.part(part), cx.book.kind_of(part)?);
    let (low, high) = kind.clicks?;
    let typed = cx.text(cx.item_span(entry, item));
    let what = if cx.entry(entry).verb == Verb::Adjust {
        format!("{typed} from where it stands is past the end")
    } else {
        format!("there is no {typed}")
    };
    Some(
        CHECK
            .at(cx.item_span(entry, item), format!("The clicks of {name} go from {low} to {high}; {what}."))
            .and(kind.named.declared, "its kind")
            .cure("correct the number, or the kind's `clicks`"),
    )
}
