//! `result-impossible`: a result that no car can have.

use crate::book::entry::{ResultFacts, Verb};
use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "result-impossible",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "a result that no car can have",
    why: "A place in the class is never a worse one than the place among all, and who finished first is no laps down on himself.",
    wrong: "  result race finish 3 class 5",
    right: "  result race finish 5 class 3",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    for (_, index) in cx.history.order.lines_of(cx.book, car) {
        let line = cx.entry(index);
        let facts = cx.book.extra(line).and_then(|extra| extra.result.as_deref());
        let Some(facts) = facts.filter(|_| line.verb == Verb::Result && !line.broken) else { continue };
        if let Some((message, cure)) = wrong(facts) {
            out.push(CHECK.at(line.span(), message).cure(cure));
        }
    }
}

fn wrong(facts: &ResultFacts) -> Option<(String, &'static str)> {
    match *facts {
        ResultFacts { finish: Some(finish), class: Some(class), .. } if class > finish => Some((
            format!("place {class} in the class is behind place {finish} among all."),
            "`finish` is the place among all, `class` that in the class",
        )),
        ResultFacts { finish: Some(1), laps_down: Some(1..), .. } => {
            Some(("who finished first is no laps down.".to_owned(), "correct the place or the laps"))
        }
        _ => None,
    }
}
