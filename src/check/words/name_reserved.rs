//! `name-reserved`: a name that already means something in the language.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::place::Place;

/// The check.
pub const CHECK: Check = Check {
    name: "name-reserved",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a name that already means something in the language",
    why: "Words such as `front`, `by` or `part` mean something where a name may stand, and so do the places `LF RF \
          LR RR`, `c1` or `g1`. A car called `front` could not be told from the front of a car, so the name is \
          refused where it is declared.",
    wrong: "car front \"The front-wheel-drive one\"",
    right: "car front-drive \"The front-wheel-drive one\"",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::NameReserved = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let is = if Place::parse(typed).is_some() { "is a place on a car" } else { "is a word of the language" };
    Some(
        CHECK
            .at(trouble.span, format!("`{typed}` {is} and cannot be a name."))
            .cure(format!("choose another, such as `{typed}-1`")),
    )
}
