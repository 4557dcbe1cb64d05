//! `promise-late`: a promise was kept late, or moved when its day was past.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::jobs::Outcome;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "promise-late",
    severity: Severity::Note,
    family: Family::Jobs,
    brief: "a promise was kept late, or moved when its day was past",
    why: "Nothing is wrong with the book. How often the shop is late, and by how much, is worth knowing before the next \
          day is promised.",
    wrong: "2026-06-20 plover\n  job j-2 \"seal weeps\"  promised 2026-06-26\n2026-07-06 plover\n  done j-2 \"lip worn\"",
    right: "2026-06-20 plover\n  job j-2 \"seal weeps\"  promised 2026-07-10\n2026-07-06 plover\n  done j-2 \"lip worn\"",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for id in cx.book.jobs.keys() {
        let job = cx.history.jobs.get(id);
        for (at, promise) in job.promises.iter().enumerate() {
            let due = promise.due;
            let (days, what) = match job.outcome(at, cx.today) {
                Some(Outcome::Late(days)) => (days, "was done"),
                Some(Outcome::Broken(days)) => (days, "was promised anew"),
                _ => continue,
            };
            let message =
                format!("{} was promised for {due} and {what} {} later.", cx.job_words(id), words::days(days));
            let span = told::until_span(cx, promise.entry);
            let mut message = CHECK.at(span, message);
            if let Some(closed) = job.closed().filter(|_| what == "was done") {
                message = message.and(cx.entry(closed.entry).span(), "done here");
            }
            out.push(message.cure("nothing to mend; a `waive` under the line with the reason puts it at rest"));
        }
    }
}
