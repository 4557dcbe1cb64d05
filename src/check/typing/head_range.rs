//! `head-range`: a dated line with a range of dates.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "head-range",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a dated line with a range of dates",
    why: "Each day has its own dated line, so that what happened on Sunday does not end up on Saturday. Only an \
          event spans several days. Nothing under the line is read until it is one day.",
    wrong: "2025-05-10..11 heron at pell-1",
    right: "2025-05-10 heron at pell-1\n\n2025-05-11 heron at pell-1",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::HeadRange = trouble.what else { return None };
    let from = cx.text(trouble.span).split("..").next().unwrap_or_default();
    Some(
        CHECK
            .at(trouble.span, "What was done is written down day by day, not over a range of days.")
            .cure(format!("begin with `{from}` and give the next day a line of its own")),
    )
}
