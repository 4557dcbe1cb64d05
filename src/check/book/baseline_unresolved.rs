//! `baseline-unresolved`: a named setup whose moment is none.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::moment::{self, MomentTrouble};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "baseline-unresolved",
    severity: Severity::Error,
    family: Family::Book,
    brief: "a named setup whose moment is none",
    why: "A `baseline` gives a setup a name to compare against, so its moment must be one of the car's: an event, a \
          session of it, its start or end, or a date. A diff against a baseline without a moment would compare with \
          nothing.",
    wrong: "baseline wet-1 heron pell-1/s9 \"first damp run\"",
    right: "baseline wet-1 heron pell-1/s1 \"first damp run\"",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for baseline in &cx.book.baselines {
        let Some(car) = baseline.car else { continue };
        let typed = cx.text(baseline.moment);
        // A baseline without any moment is said where it is read.
        if typed.is_empty() {
            continue;
        }
        if let Err(trouble) = moment::parse(cx.book, cx.files, cx.history, car, typed) {
            // A session or an event that stands on a refused line, or under a refused head, is only lost with it.
            let (event, session) = typed.split_once('/').unwrap_or((typed, ""));
            let session = session.trim_start_matches("before-").trim_start_matches("after-");
            let doubt = crate::check::follow::Doubt::of(cx);
            let of_it = |word: &str| !word.is_empty() && doubt.names_anywhere(word);
            let unknown = matches!(trouble, MomentTrouble::Unknown { .. });
            if of_it(session) || (session.is_empty() || unknown) && of_it(event) {
                continue;
            }
            let why = words::moment::trouble(&trouble);
            let end = if why.ends_with('?') { "" } else { "." };
            out.push(
                CHECK
                    .at(baseline.moment, format!("{}: {why}{end}", baseline.named.typed))
                    .cure("name an event of this car, with a session behind a slash if you like"),
            );
        }
    }
}
