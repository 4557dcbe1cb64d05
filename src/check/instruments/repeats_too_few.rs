//! `repeats-too-few`: one reading on the bench.

use super::bench;
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, Entry, Verb};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "repeats-too-few",
    severity: Severity::Note,
    family: Family::Instruments,
    brief: "a single reading on the bench",
    why: "One reading has no spread: nobody can say how good it is, nor whether two parts differ by more than the bench. Three \
          repeats cost two minutes.",
    wrong: "  bench sp-1 spring-rate 69.4 N/mm",
    right: "  bench sp-1 spring-rate 69.4, 69.2, 69.5 N/mm",
    look: Look::Entry(&[Verb::Bench], look),
};

fn look(cx: &Context<'_>, index: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    if !entry.void && bench::values(cx, index).len() == 1 {
        out.push(
            CHECK.at(entry.span(), "One reading: no spread to judge by.").cure("take two more, with commas between them"),
        );
    }
}
