//! `not-utf8`: a letter that is not written as UTF-8.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::LoadTrouble;

/// The check.
pub const CHECK: Check = Check {
    name: "not-utf8",
    severity: Severity::Warning,
    family: Family::Reading,
    brief: "a letter that is not written as UTF-8",
    why: "Ledgers are text in UTF-8, which every editor of today writes unless told otherwise. A file saved in an \
          older encoding holds letters (often a degree sign, an accent or a pound sign) that cannot be told for \
          certain. The line is read with a mark in their place: numbers survive it, but a name with such a letter \
          is not the name you meant.",
    wrong: "  set caster front 6.2�",
    right: "  set caster front 6.2 deg",
    look: Look::Trouble(words),
};

fn words(_: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Load(LoadTrouble::NotUtf8 { count, .. }) = &trouble.what else { return None };
    let more = match count {
        0 | 1 => String::new(),
        2 => "; the file has one more".to_owned(),
        _ => format!("; the file has {} more", count - 1),
    };
    Some(
        CHECK
            .at(trouble.span, format!("This letter is not written as UTF-8 and cannot be told{more}."))
            .here("here")
            .cure("type the letter again and save the file as UTF-8"),
    )
}
