//! `compared-in-other-unit`: a comparison in a unit that a gauge of it does not read.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "compared-in-other-unit",
    severity: Severity::Error,
    family: Family::Instruments,
    brief: "gauges compared in something that one of them does not read",
    why: "What two gauges differ by holds for what both of them read: it is taken off every reading of that dimension. A comparison in \
          another unit is a slip in the name or in the unit.",
    wrong: "gauge cg-1 \"camber gauge\"  reads camber\n2026-04-17\n  compare pg-1 1.62 cg-1 1.57 bar",
    right: "  compare pg-1 1.62 pg-2 1.57 bar",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::ComparedInOtherUnit(gauge) = trouble.what else { return None };
    let gauge = cx.book.gauges.get(gauge)?;
    let reads: Vec<&str> = gauge.reads.iter().map(|read| &*cx.quantity(*read).name).collect();
    let (name, unit) = (&gauge.named.typed, cx.text(trouble.span));
    Some(
        CHECK
            .at(trouble.span, format!("{name} reads {}, nothing in {unit}.", words::and(&reads)))
            .and(gauge.named.declared, "the gauge")
            .cure(format!("name another gauge, give another unit, or add to what {name} `reads`")),
    )
}
