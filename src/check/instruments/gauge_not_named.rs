//! `gauge-not-named`: a reading that several gauges could have given, without saying which.

use super::gauges_for;
use crate::check::{Check, Context, Family, Look};
use crate::book::clause::Clause;
use crate::book::entry::{EntryId, By, Entry, Verb};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "gauge-not-named",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "a reading that several gauges could have given, without saying which",
    why: "Two gauges of one shop never agree quite. Where the book knows two or more that read a quantity, a reading without \
          its gauge cannot be corrected, nor compared with the next.",
    wrong: "  read tyre-hot 1.86 1.88 1.79 1.81 bar",
    right: "  read tyre-hot 1.86 1.88 1.79 1.81 bar  by pg-2",
    look: Look::Entry(&[Verb::Found, Verb::Left, Verb::Read, Verb::Torque, Verb::Bench], look),
};

fn look(cx: &Context<'_>, _: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    if entry.by != By::Nobody || entry.void {
        return;
    }
    // Named, and not understood: that has its message.
    if cx.book.extra(entry).is_some_and(|extra| extra.unclear.has(Clause::By)) {
        return;
    }
    let Some(id) = entry.quantity else { return };
    let names: Vec<&str> = gauges_for(cx, id).map(|gauge| &*gauge.named.typed).collect();
    if let [_, .., last] = names.as_slice() {
        let list = words::or(&names);
        out.push(
            CHECK
                .at(entry.span(), format!("Which gauge read {}: {list}?", cx.quantity(id).name))
                .cure(format!("write `by {last}` after the values")),
        );
    }
}
