//! `job-closed-empty`: a job is closed without saying what was found.

use crate::book::entry::{EntryId, Entry, Verb};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "job-closed-empty",
    severity: Severity::Warning,
    family: Family::Jobs,
    brief: "a job is closed without saying what was found",
    why: "A year later the finding is all that is left of a job: worn, broken, bent, or nothing at all. Without it nobody \
          can tell whether the cause was cured or only the symptom.",
    wrong: "  done j-2",
    right: "  done j-2 \"lip worn to a knife, seal replaced, shaft polished\"",
    look: Look::Entry(&[Verb::Done], look),
};

fn look(cx: &Context<'_>, _: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let extra = cx.book.extra(entry);
    if extra.is_some_and(|extra| !extra.words.is_empty() || extra.because.is_some()) {
        return;
    }
    let job = entry.job().map_or_else(String::new, |job| cx.job_words(job));
    out.push(
        CHECK
            .at(entry.span(), format!("{job} is closed, and the line does not say what was found."))
            .cure("add what was found, in quotes; `\"nothing found\"` is an answer too"),
    );
}
