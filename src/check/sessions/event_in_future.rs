//! `event-in-future`: sessions under a date that is still to come.

use crate::book::entry::Verb;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words::did_you_mean;
use jiff::ToSpan;

/// The check.
pub const CHECK: Check = Check {
    name: "event-in-future",
    severity: Severity::Error,
    family: Family::Sessions,
    brief: "sessions under a date that is still to come, or any lines under one more than a year ahead",
    why: "A session is something that was run, so it cannot be dated ahead of today. Nearly always it is the year. \
          One day of grace is given for shops that write across a date line. Of what was done nothing is written more than a year ahead.",
    wrong: "2036-06-27 teal",
    right: "2026-06-27 teal",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for head in cx.book.heads.iter().filter(|head| told::is_ahead(cx, head.date)) {
        let ran = head.lines().map(|index| cx.entry(index)).find(|entry| entry.verb == Verb::Run);
        let Some(run) = ran else {
            let far = cx.today.checked_add(1.year()).is_ok_and(|far| head.date > far);
            // What is planned or noted may be of any day.
            let planned = |verb: Verb| {
                matches!(verb, Verb::Note | Verb::Try | Verb::Waive) || verb.is_about_job()
            };
            let done = head.lines().any(|index| !planned(cx.entry(index).verb));
            if far && done && head.is_dated() {
                out.push(
                    CHECK
                        .at(head.span, format!("Lines dated {}, and today is {}.", head.date, cx.today))
                        .cure("correct the year"),
                );
            }
            continue;
        };
        let year = cx.today.year();
        let guess = head.date.with().year(year).build().ok().filter(|date| *date <= cx.today && *date != head.date);
        let message = CHECK
            .at(head.span, format!("A session dated {}, and today is {}.", head.date, cx.today))
            .and(run.span(), "run here");
        out.push(match guess {
            Some(guess) => message.cure(did_you_mean(guess)),
            None => message.cure("correct the date"),
        });
    }
}
