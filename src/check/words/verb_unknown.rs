//! `verb-unknown`: a line that does not start with a verb.

use crate::book::names::folded;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words::did_you_mean;


/// The check.
pub const CHECK: Check = Check {
    name: "verb-unknown",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a line that does not start with a verb",
    why: "An indented line under a date starts with what was done: `set`, `found`, `fit`, `run` and so on; only a \
          time may stand before it. Without a verb it cannot be told whether a number was asked for or read, so \
          the line is not used.",
    wrong: "  camber LF -3.2 deg",
    right: "  found camber LF -3.2 deg",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::VerbUnknown { near } = &trouble.what else { return None };
    let typed = cx.text(trouble.span);
    if typed.is_empty() {
        return Some(
            CHECK
                .at(trouble.span, "The line has a time and nothing that was done then.")
                .cure("put what was done after the time: `run s1`, `set ...`"),
        );
    }
    let message = CHECK.at(trouble.span, format!("`{typed}` is not something a line can start with."));
    let quantity = cx.book.vocabulary.find(&folded(typed)).is_some();
    Some(match near {
        _ if CLAUSES.iter().any(|clause| typed.eq_ignore_ascii_case(clause)) => {
            message.cure(format!("`{typed}` continues the line above: put it at the end of that line"))
        }
        _ if let Some(clock) = clock(typed) => message.cure(format!("a time is hours and minutes in two digits: `{clock}`")),
        _ if typed.contains(':') => message.cure("a time is hours and minutes in two digits: 09:05"),
        _ if quantity => message.cure(format!(
            "say what was done first: `set {typed} ...`, `found {typed} ...`, `left {typed} ...` or `read {typed} ...`"
        )),
        Some(near) if near == "|" => message.cure("start a note with `|`"),
        Some(near) => message.cure(did_you_mean(near)),
        None => message.cure(
            "start with what was done: set, adjust, found, left, read, fit, remove, swap, run, say, think ...; a note starts with `|`",
        ),
    })
}

/// Words that only continue a line.
const CLAUSES: [&str; 14] = [
    "by", "with", "over", "during", "at", "from", "to", "into", "found-by", "because", "after", "unsure", "lap", "on",
];

/// `9.45`, `9:10-9:12` as the book writes times.
fn clock(typed: &str) -> Option<String> {
    let times: Vec<String> = typed.replace("..", "-").split(['-', '\u{2013}']).map(one_clock).collect::<Option<_>>()?;
    (1..=2).contains(&times.len()).then(|| times.join(".."))
}

fn one_clock(typed: &str) -> Option<String> {
    let (hours, minutes) = typed.split_once([':', '.', 'h'])?;
    let (hour, minute) = (hours.parse::<u8>().ok()?, minutes.parse::<u8>().ok()?);
    (hour < 24 && minute < 60 && minutes.len() == 2).then(|| format!("{hour:02}:{minute:02}"))
}
