//! `book-empty`: a book without a ledger, or with nothing in its ledgers.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::check::phrase;

/// The check.
pub const CHECK: Check = Check {
    name: "book-empty",
    severity: Severity::Warning,
    family: Family::Reading,
    brief: "a book without a ledger, or with nothing in its ledgers",
    why: "Either the folder is not the one you meant, or its files do not end in `.sline` and are passed over. A \
          book begins with a car and a dated line about it; everything else can follow.",
    wrong: "# nothing but this comment",
    right: "car heron \"Heron\"\n\n2025-05-03 heron\n  set fuel 20 L",
    look: Look::Trouble(words),
};

fn words(_: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::EmptyBook = trouble.what else { return None };
    Some(
        phrase::whole(&CHECK, "This book has no car and no dated line.".to_owned())
            .cure("ledgers are files that end in .sline; begin one with `car NAME \"Title\"`, then a line such as `2026-04-18 NAME`"),
    )
}
