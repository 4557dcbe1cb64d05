//! `leakdown-outlier`: one cylinder leaks far more than the others.

use crate::book::entry::{EntryId, Entry, Flags, Item, Verb};
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::figures::apart::far_more;

/// The check.
pub const CHECK: Check = Check {
    name: "leakdown-outlier",
    severity: Severity::Warning,
    family: Family::Work,
    brief: "one cylinder leaks far more than the others",
    why: "Leak-down readings of one engine, one gauge and one day are best held against each other. One cylinder \
          more than 8 points over the middle of the others, or above 20 %, is a seat, a ring or a reading taken \
          with the piston in the wrong place. Read it again before taking the head off.",
    wrong: "  read leakdown 6 5 17 7 %",
    right: "  read leakdown 6 5 7 7 %",
    look: Look::Entry(&[Verb::Read, Verb::Found, Verb::Left], look),
};

fn look(cx: &Context<'_>, index: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    if entry.void || entry.quantity.is_none_or(|id| &*cx.quantity(id).name != "leakdown") {
        return;
    }
    let items: Vec<&Item> = cx
        .book
        .items_of(entry)
        .iter()
        .filter(|item| Context::is_number(item) && !item.is(Flags::REPEAT) && !item.is(Flags::PART))
        .collect();
    let losses: Vec<f64> = items.iter().map(|item| item.si).collect();
    for (at, middle) in far_more(&losses) {
        let Some(item) = items.get(at) else { continue };
        out.push(
            CHECK
                .at(
                    item.span(entry.file),
                    format!(
                        "Cylinder {} leaks {}; the middle of the others is {} %.",
                        item.place.cylinder_number().unwrap_or(0),
                        cx.typed(index, item),
                        told::plain(middle * 100.0)
                    ),
                )
                .cure("read it again, hot and at top dead centre; then look at valves and rings"),
        );
    }
}
