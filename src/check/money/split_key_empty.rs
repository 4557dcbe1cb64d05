//! `split-key-empty`: nothing to share a cost out by.

use crate::check::{Check, Context, Family, Look};
use crate::costs::problem::{Problem, Unshared};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "split-key-empty",
    severity: Severity::Error,
    family: Family::Money,
    brief: "a shared cost with nothing to share it by",
    why: "A cost split by running minutes or by events is shared in the ratio of what the cars ran, at the line's event or \
          in its year. Where none of them ran, there is no ratio, and the whole sum stays where the line stands; where one of them ran for a time that nobody tells, \
          what each pays is not known.",
    wrong: "2026-02-01\n  cost 100.00 EUR other \"insurance\"  split minutes among heron, wren",
    right: "2026-02-01\n  cost 100.00 EUR other \"insurance\"  split equal among heron, wren",
    look: Look::Cost(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::SplitKeyEmpty { entry, why } = *problem else { return None };
    let split = cx.book.extra(cx.entry(entry))?.costs.as_ref()?.split.as_ref()?;
    let message = match why {
        Unshared::NobodyRan => "No car ran then, so there is nobody to share it among.".to_owned(),
        Unshared::TheseDidNotRun => "None of these cars ran then, so there is nothing to share it by.".to_owned(),
        Unshared::Untimed(session) => {
            let said = "How long one of the cars ran is not known, so neither is what each of them pays.";
            let at = CHECK.at(split.span, said).and(cx.entry(session).span(), "this session does not say");
            return Some(at.cure("write its minutes, or `split equal among CAR, CAR`"));
        }
        Unshared::NoParts => "All parts are 0, so there is nothing to share it by.".to_owned(),
        Unshared::TooMany(cars) => format!("{cars} cars ran then; name those that share it."),
    };
    Some(CHECK.at(split.span, message).cure("write `split equal among CAR, CAR`, or `at EVENT` with the event they ran at"))
}
