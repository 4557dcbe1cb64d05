//! `one-side-only`: a spring or damper set on one side, where both sides were equal.

use crate::history::order::Rank;
use super::lines::before;
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, Entry, Verb};
use crate::book::place::Place;
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::slots::{Register, SlotEvent};
use crate::units::DimensionId;

/// The check.
pub const CHECK: Check = Check {
    name: "one-side-only",
    severity: Severity::Warning,
    family: Family::Settings,
    brief: "a spring or damper set on one side, where both sides were equal",
    why: "Springs and dampers go in pairs on most cars. When both sides were equal and the block sets one of them only, the \
          other line was forgotten, or the car is meant to be uneven; the book cannot tell. What squares a car (camber, toe, \
          perches, ride height) is never asked about.",
    wrong: "  set spring-rate front 70 N/mm\n  ...\n  set spring-rate LF 70 -> 80 N/mm",
    right: "  set spring-rate front 80 N/mm",
    look: Look::Entry(&[Verb::Set], look),
};

fn look(cx: &Context<'_>, index: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let (Some(id), Some(head)) = (entry.quantity, cx.book.head(entry)) else { return };
    let Some(car) = head.car.filter(|_| !entry.void) else { return };
    let quantity = cx.quantity(id);
    if quantity.dimension != DimensionId::STIFFNESS && quantity.dimension != DimensionId::CLICK {
        return;
    }
    let rank = cx.rank(index);
    // The block's end, or its next session: until then the other side may still be set.
    let last = head.lines().next_back().map_or(rank, |last| cx.rank(last).max(rank)).next();
    let next = cx.history.sessions.between(car, rank.next(), last).first();
    let until = next.map_or(last, |id| cx.history.sessions.get(*id).rank);
    let items = cx.book.items_of(entry);
    for (at, item) in items.iter().enumerate().filter(|(_, item)| Context::is_number(item)) {
        let Some(other) = item.place.other_side() else { continue };
        if items.iter().any(|each| each.place == other) {
            continue;
        }
        let value = |place: Place, rank: Rank| -> Option<(f64, SlotEvent)> {
            let (_, event) = before(cx, car, id, place, rank)?;
            let number = event.entry.is_none() || Context::is_number(cx.item(event.item()));
            (number && event.register() != Register::Unknown).then_some((event.value, event))
        };
        let (Some((was, _)), Some((across, event))) = (value(item.place, rank), value(other, rank)) else {
            continue;
        };
        let (Some((now, _)), Some((still, _))) = (value(item.place, until), value(other, until)) else {
            continue;
        };
        let same = |a: f64, b: f64| (a - b).abs() <= 1e-9 * a.abs().max(b.abs());
        if !same(was, across) || !same(across, still) || same(now, still) {
            continue;
        }
        let typed = event.entry.map_or_else(
            || "what it was".to_owned(),
            |line| cx.value_like(across, line, cx.item(event.item())),
        );
        let mut message = CHECK
            .at(
                cx.item_span(index, entry.items.plus(at)),
                format!("{} is still {typed}. Meant?", cx.slot(id, other)),
            )
            .cure("set the other side too, or `waive one-side-only because ...`");
        if let Some(set) = event.line(cx.book) {
            message = message.and(set.span(), "set here");
        }
        out.push(message);
    }
}
