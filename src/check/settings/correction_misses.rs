//! `correction-misses`: a correction of something that no line says.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;
use crate::units::DimensionId;

/// The check.
pub const CHECK: Check = Check {
    name: "correction-misses",
    severity: Severity::Error,
    family: Family::Settings,
    brief: "a correction of something that no line says",
    why: "A correction takes the place of what was typed, on the last line of the car above it that states the old value at that place; \
          of one that states only nearly that, where it is the only one. No line does, so that nothing is corrected: the old value or its place is another, or the line stands further down.",
    wrong: "2025-05-03 heron\n  read camber LF -2.9 deg by cg-1\n2025-05-04 heron\n  correct camber LF -2.1 -> -1.9 deg",
    right: "2025-05-03 heron\n  read camber LF -2.9 deg by cg-1\n2025-05-04 heron\n  correct camber LF -2.9 -> -1.9 deg",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::CorrectionMisses { entry, item, near } = *problem else { return None };
    let line = cx.entry(entry);
    let quantity = cx.quantity(line.quantity?);
    let place = cx.place(cx.item(item).place);
    let what = format!("{} {place}", quantity.name);
    // A length of toe is one over its own diameter.
    let toe = quantity.dimension == DimensionId::TOE;
    let over = if toe { " over the same length" } else { "" };
    let message = CHECK.at(
        cx.item_span(entry, item),
        format!("no line before this one says {} for {}{over}.", cx.typed(entry, cx.item(item)), what.trim_end()),
    );
    Some(match near {
        Some(near) if toe => message
            .and(cx.entry(near).span(), "the last that says anything")
            .cure("write the value as it was typed there, and its `over` where it has one"),
        Some(near) => message
            .and(cx.entry(near).span(), "the last that says anything")
            .cure("write the value as it was typed there"),
        None => message.cure("a value that was never typed is stated by `set` or `read`, on the day it was so"),
    })
}
