//! `set-incomplete`: corner weights with a corner missing.

use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, Entry, Verb};
use crate::book::place::Place;
use crate::diagnostics::{Diagnostic, Severity};
use crate::units::DimensionId;
use crate::vocabulary::Places;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "set-incomplete",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "corner weights with a corner missing",
    why: "Cross, front share and total need all four corners. A corner that was not read stays empty; it is never taken for \
          zero, nor for what it read the last time.",
    wrong: "  left weight LF 149.0 RF 151.0 LR 171.0 RR - kg",
    right: "  left weight LF 149.0 RF 151.0 LR 171.0 RR 171.0 kg",
    look: Look::Entry(&[Verb::Found, Verb::Left, Verb::Read], look),
};

fn look(cx: &Context<'_>, _: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let Some(quantity) = entry.quantity.map(|id| cx.quantity(id)) else { return };
    if quantity.dimension != DimensionId::WEIGHT || !quantity.places.has(Places::CORNER) || entry.void {
        return;
    }
    let items = cx.book.items_of(entry);
    let read = |place: &Place| items.iter().any(|item| item.place == *place && Context::is_number(item));
    let missing: Vec<String> =
        Place::CORNERS.iter().filter(|place| !read(place)).map(|place| cx.place(*place)).collect();
    if missing.is_empty() || items.is_empty() {
        return;
    }
    let verb = if missing.len() == 1 { "is" } else { "are" };
    out.push(
        CHECK
            .at(entry.span(), format!("{} {verb} missing; cross and total are not worked out.", words::and(&missing)))
            .cure("read all four on one line"),
    );
}
