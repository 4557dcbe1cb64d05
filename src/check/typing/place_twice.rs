//! `place-twice`: the same place twice on a line.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "place-twice",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "the same place twice on a line",
    why: "A line gives each place one value. The second is either meant for another place, or is a repeat of the \
          reading, which is written behind the first with a comma and a blank.",
    wrong: "  set camber LF -3.2 LF -3.0 deg",
    right: "  set camber LF -3.2 RF -3.0 deg",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::PlaceTwice(first) = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let before = cx.text(first);
    Some(
        CHECK
            .at(trouble.span, format!("{typed} has a value on this line already."))
            .and(first, format!("{before} here"))
            .cure(format!("name the other place; a repeat goes behind the first with a comma: `{before}, ...`")),
    )
}
