//! `session-unknown`: `during` or `after` a session that this car did not run there.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;
use crate::words::did_you_mean;

/// The check.
pub const CHECK: Check = Check {
    name: "session-unknown",
    severity: Severity::Error,
    family: Family::Sessions,
    brief: "`during` or `after` a session, or `during` a stage, that this car did not run there",
    why: "The line names a session that the car did not run at that event, or on that day where there is no event; `during` may name a stage \
          too, and that is of the session in which it was driven. What the line says cannot be counted to any session.",
    wrong: "  09:30..09:50 run s1\n  hit RF \"gate post\" during s2",
    right: "  09:30..09:50 run s1\n  hit RF \"gate post\" during s1",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::SessionUnknown { entry, near, several } = problem else { return None };
    let extra = cx.book.extra(cx.entry(*entry))?;
    let label = extra.after.or(extra.during)?;
    let car = cx.car_of(*entry).map_or("the car", |car| cx.car(car));
    let event = cx.book.head(cx.entry(*entry)).and_then(|head| head.event);
    let event = event.and_then(|event| cx.book.events.get(event));
    let there = event.map_or_else(|| "that day".to_owned(), |event| format!("at {}", event.named.typed));
    let label_typed = cx.text(label);
    if *several {
        let message = format!("{car} drove more than one stage {label_typed} {there}.");
        return Some(CHECK.at(label, message).cure("put the line under the `stage` line it happened in"));
    }
    let message = CHECK.at(label, format!("{car} ran no {label_typed} {there}."));
    Some(match near {
        Some(near) => message.cure(did_you_mean(near)),
        None => message.cure("write the `run` line of that session, or put this line under the event's head"),
    })
}
