//! `cylinder-apart`: one cylinder a multiple of the others, or a fraction of them.

use crate::book::entry::{Entry, EntryId, Flags, Verb};
use crate::check::{Check, Context, Family, Look};
use crate::statistics;
use crate::diagnostics::{Diagnostic, Severity};
use crate::units::number;
use crate::vocabulary::Places;

/// The check.
pub const CHECK: Check = Check {
    name: "cylinder-apart",
    severity: Severity::Warning,
    family: Family::Work,
    brief: "one cylinder a multiple of the others, or a fraction of them",
    why: "Cylinders of one engine read on one line are near to each other. One that is three and a half times the middle of the others, \
          or less than the same share of it, lost or gained a digit more often than a ring: `3.0` among twelves, `1.20` among \
          gaps of 0.30. Read it again before the head comes off. Leak-down is held against the others in points, by \
          `leakdown-outlier`.",
    wrong: "  read compression 12.1 3.0 12.2 12.1 bar",
    right: "  read compression 12.1 12.0 12.2 12.1 bar",
    look: Look::Entry(&[Verb::Set, Verb::Found, Verb::Left, Verb::Read], look),
};

/// Between what tired engines do and a slip by a factor of four.
const TIMES: f64 = 3.5;

fn look(cx: &Context<'_>, index: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let Some(id) = entry.quantity.filter(|_| !entry.void) else { return };
    let quantity = cx.quantity(id);
    let scale = quantity.dimension.get();
    if !quantity.places.has(Places::CYLINDER) || scale.affine() || scale.is_text() || &*quantity.name == "leakdown" {
        return;
    }
    let items = cx.book.items_of(entry).iter().enumerate().filter(|(_, item)| {
        Context::is_number(item) && !item.is(Flags::REPEAT | Flags::PART) && item.place.cylinder_number().is_some()
    });
    let items: Vec<_> = items.collect();
    // A trim may be none, or of either sign: no multiple says anything of those.
    if items.len() < 3 || items.iter().any(|(_, item)| item.si <= 0.0) {
        return;
    }
    for (at, item) in &items {
        let mut others: Vec<f64> =
            items.iter().filter(|(other, _)| other != at).map(|(_, item)| item.si).collect();
        others.sort_by(f64::total_cmp);
        let Some(middle) = statistics::middle(&others) else { continue };
        let times = item.si / middle;
        let alike = others.last().zip(others.first()).is_some_and(|(most, least)| *most < *least * TIMES);
        if !alike || (1.0 / TIMES..=TIMES).contains(&times) {
            continue;
        }
        let number = item.place.cylinder_number().unwrap_or(0);
        let (typed, middle) = (cx.typed(index, item), cx.value_like(middle, index, item));
        let words = if times > 1.0 {
            let times = number::format(times, 1);
            format!("Cylinder {number} is {typed}, {times} times the middle of the others, {middle}. A digit?")
        } else {
            let times = number::format(1.0 / times, 1);
            format!("Cylinder {number} is {typed}; the middle of the others is {middle}, {times} times as much. A digit?")
        };
        out.push(
            CHECK
                .at(item.span(entry.file), words)
                .cure("correct it, or read it again and `waive cylinder-apart because ...`"),
        );
    }
}
