//! `clause-twice`: a clause that says one thing, twice on a line.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "clause-twice",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a clause that says one thing, twice on a line",
    why: "`by`, `on`, `during`, `after` and the like say one thing of their line: who did it, which job, which session. Of two \
          nobody knows which is meant, so neither is taken. So it is with the minutes, laps and kilometres of a session, and with the places and \
          points of a result. Several drivers of one session each have a `stint` line under its `run`, with their \
          own minutes.",
    wrong: "  found camber LF -3.2 deg  by cg-1  by cg-2",
    right: "  found camber LF -3.2 deg  by cg-1",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    if let What::FactTwice(what, first) = trouble.what {
        let message = CHECK.at(trouble.span, format!("This line says its {what} already."));
        return Some(message.and(first, "here").cure("keep the one that is right"));
    }
    let What::ClauseTwice(word, first) = trouble.what else { return None };
    let (typed, before) = (cx.text(trouble.span), cx.text(first));
    let who = if word == "by" { "one gauge or one person" } else { "one thing" };
    let message = CHECK.at(trouble.span, format!("`{word}` says {who} of a line."));
    let person = cx.book.names.find(before).is_some_and(|thing| cx.book.names.person(thing).is_some());
    Some(if typed.eq_ignore_ascii_case(word) {
        message.and(first, "it stands here already").cure("keep one of the two; a second fact goes on a line of its own")
    } else if !person {
        message.and(first, format!("{before} is named already")).cure(format!("write `{word} {before}`, and what {typed} says on a line of its own"))
    } else {
        message.and(first, format!("{before} is named already")).cure(format!("write `{word} {before}`; several drivers of one session each have a line under its `run`: `stint {before}`, `stint {typed}`"))
    })
}
