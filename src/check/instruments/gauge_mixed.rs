//! `gauge-mixed`: cold by one gauge, hot by another.

use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, By, Entry, Item, Verb};
use crate::book::model::{CarId, EventId, GaugeId};
use crate::book::place::Place;
use crate::diagnostics::{Diagnostic, Severity};
use crate::vocabulary::QuantityId;
use rustc_hash::{FxHashMap, FxHashSet};

/// The check.
pub const CHECK: Check = Check {
    name: "gauge-mixed",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "tyres read cold by one gauge and hot by another",
    why: "The gain from cold to hot is a difference of two readings, and the difference of two gauges goes straight into it. \
          Read both with one gauge; or hold the two against one tyre, on any day, and write a `compare` line: then what they \
          differ by is taken off. It is said once for each car, event and pair of gauges.",
    wrong: "  read tyre-cold 1.45 1.45 1.40 1.40 bar  by pg-1\n  run s1\n    read tyre-hot 1.78 1.80 1.72 1.74 bar  by pg-2",
    right: "  read tyre-cold 1.45 1.45 1.40 1.40 bar  by pg-1\n  run s1\n    read tyre-hot 1.83 1.85 1.77 1.79 bar  by pg-1",
    look: Look::Whole(look),
};

/// A reading by a gauge, kept until the next.
#[derive(Clone, Copy)]
struct Reading {
    entry: EntryId,
    gauge: GaugeId,
    event: Option<EventId>,
}

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let find = |name| cx.book.vocabulary.find(name);
    let (Some(cold), Some(hot)) = (find("tyre-cold"), find("tyre-hot")) else { return };
    let mut last: FxHashMap<CarId, Reading> = FxHashMap::default();
    let mut apart: FxHashMap<(GaugeId, GaugeId), f64> = FxHashMap::default();
    let mut told: FxHashSet<(CarId, EventId, GaugeId, GaugeId)> = FxHashSet::default();
    for index in &cx.history.order.entries {
        let entry = cx.entry(*index);
        let (By::Gauge(gauge), Some(quantity)) = (entry.by, entry.quantity) else { continue };
        if entry.broken || entry.void || quantity != cold && quantity != hot || entry.verb == Verb::Adjust {
            continue;
        }
        let Some((car, event)) = cx.book.head(entry).and_then(|head| Some((head.car?, head.event))) else { continue };
        if quantity == cold {
            if let Some(before) = last.get(&car).filter(|before| before.gauge != gauge)
                && let Some(by) = compared(cx, cx.entry(before.entry), entry)
            {
                apart.insert((before.gauge, gauge), by);
                apart.insert((gauge, before.gauge), -by);
            }
            last.insert(car, Reading { entry: *index, gauge, event });
            continue;
        }
        let Some(before) = last.get(&car).filter(|before| before.event == event && before.gauge != gauge) else {
            continue;
        };
        let Some(event) = event else { continue };
        if put_right(cx, before.entry, *index) {
            continue;
        }
        if told.insert((car, event, before.gauge, gauge)) {
            let by = apart.get(&(before.gauge, gauge)).copied();
            out.extend(message(cx, *before, *index, by));
        }
    }
}

/// Whether comparisons say by how much the gauges of two lines differ.
fn put_right(cx: &Context<'_>, cold: EntryId, hot: EntryId) -> bool {
    let terms = |line: EntryId| {
        let item = number(cx, cx.entry(line), None)?;
        cx.correction(line, item).map(|(_, by)| by.terms)
    };
    terms(cold).zip(terms(hot)).is_some_and(|(cold, hot)| cold == hot)
}

/// By how much more the second gauge reads than the first, where two lines of one block hold both against one tyre.
fn compared(cx: &Context<'_>, first: &Entry, second: &Entry) -> Option<f64> {
    let same = |entry: &Entry| {
        let extra = cx.book.extra(entry);
        extra.is_some_and(|extra| {
            extra.conditions.iter().any(|condition| {
                ["same-tyre", "reference"].iter().any(|key| cx.text(condition.key).eq_ignore_ascii_case(key))
            })
        })
    };
    let (a, b) = (number(cx, first, None)?, number(cx, second, None)?);
    (first.head == second.head && same(first) && same(second) && a.place == b.place).then_some(b.si - a.si)
}

fn number<'a>(cx: &Context<'a>, entry: &Entry, place: Option<Place>) -> Option<&'a Item> {
    let items = cx.book.items_of(entry).iter();
    let mut items = items.filter(|item| Context::is_number(item) && place.is_none_or(|place| item.place == place));
    items.next()
}

fn message(cx: &Context<'_>, cold: Reading, hot: EntryId, apart: Option<f64>) -> Option<Diagnostic> {
    let (before, after) = (cx.entry(cold.entry), cx.entry(hot));
    let By::Gauge(gauge) = after.by else { return None };
    let name = |id: GaugeId| cx.book.gauges.get(id).map_or("?", |gauge| &gauge.named.typed);
    let read = number(cx, after, None)?;
    let was = number(cx, before, Some(read.place));
    let gain = was.map(|was| {
        let shown = read.si - was.si;
        let like = |si: f64| cx.difference_like(si, hot, read);
        match apart {
            Some(by) => format!(" The gain shown at {} is {}; corrected, {}.", cx.place(read.place), like(shown), like(shown - by)),
            None => format!(" The gain shown at {} is {}; how far the two gauges are apart is not in the book.", cx.place(read.place), like(shown)),
        }
    });
    let of: QuantityId = after.quantity?;
    Some(
        CHECK
            .at(
                after.span(),
                format!(
                    "Cold by {}, hot by {} ({}).{}",
                    name(cold.gauge),
                    name(gauge),
                    cx.quantity(of).name,
                    gain.unwrap_or_default()
                ),
            )
            .and(before.span(), "cold, by the other gauge")
            .cure("read both with one gauge, or hold both against one tyre and write a `compare` line"),
    )
}
