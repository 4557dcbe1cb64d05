//! `day-already-past`: a job is promised for, or put off to, a day before the line's own.

use crate::book::entry::{EntryId, Entry, Verb};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::jobs;

/// The check.
pub const CHECK: Check = Check {
    name: "day-already-past",
    severity: Severity::Warning,
    family: Family::Jobs,
    brief: "a job is promised for, or put off to, a day before the line's own",
    why: "A promise is about a day to come. One that was past when it was given is usually last year's, or a month typed \
          for another; it would count as broken from the start.",
    wrong: "2026-06-20 plover\n  promise j-2 until 2026-06-02",
    right: "2026-06-20 plover\n  promise j-2 until 2026-07-02",
    look: Look::Entry(&[Verb::Job, Verb::Defer, Verb::Promise], look),
};

fn look(cx: &Context<'_>, _: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let facts = cx.book.extra(entry).and_then(|extra| extra.job_facts.as_deref());
    let Some((until, span)) = facts.and_then(|facts| facts.until) else { return };
    let (end, what) = if entry.verb == Verb::Defer {
        (jobs::ends(cx.book, Some(until)), "put off to")
    } else {
        (jobs::due(cx.book, until), "promised for")
    };
    let (Some(head), Some(end)) = (cx.book.head(entry), end) else { return };
    if end >= head.date {
        return;
    }
    let job = entry.job().map_or_else(String::new, |job| cx.job_words(job));
    out.push(
        CHECK
            .at(span, format!("{job} is {what} {end}, and the line is of {}.", head.date))
            .cure("correct the day; usually the year or the month is a slip"),
    );
}
