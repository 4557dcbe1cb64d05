//! `dates-backward`: a range of dates that ends before it starts.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "dates-backward",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a range of dates that ends before it starts",
    why: "An event's dates say which days belong to it. The last day stands after two points and may leave out \
          what is the same: the year, or the year and the month. Ending before it starts, the event holds no day \
          at all.",
    wrong: "event pell-1 2025-05-10..09 at pell-hill",
    right: "event pell-1 2025-05-10..11 at pell-hill",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::DatesBackward = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let (from, to) = typed.split_once("..").unwrap_or((typed, ""));
    Some(
        CHECK
            .at(trouble.span, format!("{to} is before {from}."))
            .cure("put the earlier day first; write month and day, or the year too, where they change: 2026-05-30..06-02"),
    )
}
