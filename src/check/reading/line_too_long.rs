//! `line-too-long`: a line too long to be one fact.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::syntax::Mistake;

/// The check.
pub const CHECK: Check = Check {
    name: "line-too-long",
    severity: Severity::Error,
    family: Family::Reading,
    brief: "a line too long to be one fact",
    why: "One line states one fact. A line of more than 64 KiB is nearly always a file that lost its line ends, or \
          something that is not a ledger at all. It is not read.",
    wrong: "a whole season on one line",
    right: "one fact a line",
    look: Look::Trouble(words),
};

fn words(_: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Syntax(Mistake::LineTooLong) = trouble.what else { return None };
    Some(
        CHECK
            .at(trouble.span, "This line has more than 64 KiB and is not read.")
            .cure("one line states one fact; were the line ends lost?"),
    )
}
