//! `file-unreadable`: a file or folder of the book that could not be read.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::check::phrase;
use crate::source::LoadTrouble;

/// The check.
pub const CHECK: Check = Check {
    name: "file-unreadable",
    severity: Severity::Error,
    family: Family::Reading,
    brief: "a file or folder of the book that could not be read",
    why: "The book is all the ledger files below its folder. When one of them cannot be opened, whatever it says \
          is missing from every report, and nothing else would tell you so. The reason given is the system's own: \
          most often the file may not be read by you, or a link leads to a folder that has been moved.",
    wrong: "quern-1.sline, which only another user may read",
    right: "quern-1.sline, readable by whoever compiles the book",
    look: Look::Trouble(words),
};

fn words(_: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Load(LoadTrouble::Unreadable { path, reason }) = &trouble.what else { return None };
    Some(
        phrase::whole(&CHECK, format!("{path} cannot be read ({reason}); the book is read without it."))
            .cure("let it be read, or move it out of the book's folder"),
    )
}
