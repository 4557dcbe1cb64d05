//! `promise-overdue`: the day a job was promised for is past, and it is not done.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::jobs::Outcome;

/// The check.
pub const CHECK: Check = Check {
    name: "promise-overdue",
    severity: Severity::Warning,
    family: Family::Jobs,
    brief: "the day a job was promised for is past, and it is not done",
    why: "Somebody was told a day, and it has gone by. Either the job was done and the line is missing, or he is owed \
          another day, and a new `promise` says which; both stay in the book.",
    wrong: "  job j-2 \"gearbox seal weeps\"  promised 2026-06-26",
    right: "  job j-2 \"gearbox seal weeps\"  promised 2026-06-26\n2026-06-25 plover\n  promise j-2 to varga until 2027-02-01",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for id in cx.book.jobs.keys() {
        let job = cx.history.jobs.get(id);
        for (at, promise) in job.promises.iter().enumerate() {
            if !matches!(job.outcome(at, cx.today), Some(Outcome::Overdue(_))) {
                continue;
            }
            let whom = promise.client.map_or_else(String::new, |client| format!(" to {}", cx.client(client)));
            let due = promise.due;
            let message =
                format!("{} was promised{whom} for {due}; that is past, and it is not done.", cx.job_words(id));
            let cure = "write `done` where it was done, or `promise` another day";
            out.push(CHECK.at(told::until_span(cx, promise.entry), message).cure(cure));
        }
    }
}
