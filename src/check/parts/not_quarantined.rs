//! `not-quarantined`: a part is released that was not in quarantine.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "not-quarantined",
    severity: Severity::Warning,
    family: Family::Parts,
    brief: "a part is released that was not in quarantine",
    why: "A release ends a quarantine; here there is none to end. Either the line that put the part there is \
          missing, and with it the reason, or the number is another part's.",
    wrong: "  release cp-1 because sound",
    right: "  quarantine cp-1 because of the wall\n  release cp-1 because sound",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::NotQuarantined { entry, part } = *problem else { return None };
    let span = told::part_span(cx, entry, part);
    let name = cx.part(part);
    let rank = cx.rank(entry);
    let stay = cx.history.parts.get(part).at(rank.next()).copied();
    let message = match stay {
        Some(stay) => format!(
            "{name} is not in quarantine: it is {} (since {}).",
            cx.place_words(stay.at),
            cx.when(stay.entry, span)
        ),
        None => format!("{name} is not in quarantine: no line of the book has put it anywhere yet."),
    };
    Some(CHECK.at(span, message).cure(format!("write `quarantine {name} because ...` where it was put aside, or correct the name")))
}
