//! `folder-loop`: a link in the book's folder that leads back into the book.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::check::phrase;
use crate::source::LoadTrouble;

/// The check.
pub const CHECK: Check = Check {
    name: "folder-loop",
    severity: Severity::Warning,
    family: Family::Reading,
    brief: "a link in the book's folder that leads back into the book",
    why: "A link that leads to a folder or a file of the same book, or round in a ring, would have the same lines \
          read twice or for ever. It is left out; what it leads to is read once, by its own path. If it was meant \
          to bring in something else, it points at the wrong place.",
    wrong: "season/again, a link to season",
    right: "season, without the link",
    look: Look::Trouble(words),
};

fn words(_: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Load(LoadTrouble::Loop { path }) = &trouble.what else { return None };
    Some(
        phrase::whole(&CHECK, format!("{path} is a link back into the book itself, and is not followed."))
            .cure(format!("delete the link {path}")),
    )
}
