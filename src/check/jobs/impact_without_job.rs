//! `impact-without-job`: an impact whose work has a job that its line does not name.

use crate::book::entry::{Entry, EntryId, Verb};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// Days after an impact in which a job of its car may well be about it (common practice: before the next meeting).
const DAYS: i32 = 14;

/// The check.
pub const CHECK: Check = Check {
    name: "impact-without-job",
    severity: Severity::Note,
    family: Family::Jobs,
    brief: "an impact, and a job of its car with hours or costs that its line does not name",
    why: "What a crash cost is what stands under its line and what was booked on the job that its line names with `on JOB`. \
          Without that the hours and parts are in the totals and not in what the crash cost.",
    wrong: "  hit RF \"gate post\" during s6\n  job j-7 \"straighten the RF upright\"\n  hours 4 h on j-7",
    right: "  hit RF \"gate post\" during s6 on j-7\n  job j-7 \"straighten the RF upright\"\n  hours 4 h on j-7",
    look: Look::Entry(&[Verb::Hit], look),
};

fn look(cx: &Context<'_>, index: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let extra = cx.book.extra(entry);
    if entry.broken || extra.is_some_and(|extra| extra.job.is_some()) {
        return;
    }
    let (Some(car), Some(day)) = (cx.book.head(entry).and_then(|head| head.car), cx.date(index)) else { return };
    let jobs = &cx.history.jobs;
    let found = jobs.of(Some(car)).into_iter().find(|(id, job)| {
        let Some(opened) = job.opened() else { return false };
        let soon = cx.date(opened.entry).and_then(|on| day.until(on).ok()).map(|span| span.get_days());
        let soon = soon.is_some_and(|days| (0..=DAYS).contains(&days)) && cx.rank(opened.entry) > cx.rank(index);
        let line = |entry: EntryId| cx.book.entries.get(entry).map(|line| line.verb);
        // A job that another impact or failure names is that one's.
        let taken = job.work.iter().any(|(_, line_of)| matches!(line(*line_of), Some(Verb::Hit | Verb::Failed)));
        let booked = cx.costs.of_job.get(id.index()).is_some_and(|list| !list.is_empty());
        soon && !taken && booked
    });
    if let Some((id, job)) = found {
        let name = &cx.book.jobs[id].named.typed;
        let made = CHECK.at(entry.span(), format!("What {name} cost does not count for this impact."));
        let made = match job.opened() {
            Some(opened) => made.and(cx.entry(opened.entry).span(), "opened after it"),
            None => made,
        };
        out.push(made.cure(format!("add `on {name}` to this line, if that is its work")));
    }
}
