//! `gauge-of-other-quantity`: by a gauge that does not read this.

use super::gauges_for;
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, By, Entry, Verb};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "gauge-of-other-quantity",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "by a gauge that does not read this",
    why: "A gauge is declared with what it reads. A camber by the tyre gauge is a slip in the name, and the wrong resolution \
          would be used to judge it.",
    wrong: "  left camber LF -3.2 deg  by pg-1",
    right: "  left camber LF -3.2 deg  by cg-1",
    look: Look::Entry(
        &[Verb::Set, Verb::Adjust, Verb::Found, Verb::Left, Verb::Read, Verb::Torque, Verb::Recheck, Verb::Bench],
        look,
    ),
};

fn look(cx: &Context<'_>, _: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let (By::Gauge(gauge), Some(id)) = (entry.by, entry.quantity) else { return };
    let Some(gauge) = cx.book.gauges.get(gauge) else { return };
    if entry.void || gauge.reads.is_empty() || gauge.reads.contains(&id) {
        return;
    }
    let reads: Vec<&str> = gauge.reads.iter().map(|read| &*cx.quantity(*read).name).collect();
    let (name, quantity) = (&gauge.named.typed, &cx.quantity(id).name);
    let cure = match gauges_for(cx, id).next() {
        Some(other) => format!("write `by {}`, or add {quantity} to what {name} `reads`", other.named.typed),
        None => format!("add {quantity} to what {name} `reads`, or name another"),
    };
    out.push(
        CHECK
            .at(entry.span(), format!("{name} reads {}, not {quantity}.", words::and(&reads)))
            .and(gauge.named.declared, "the gauge")
            .cure(cure),
    );
}
