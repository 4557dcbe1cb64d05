//! `gauge-found-off`: a torque wrench reads high or low, and what was tightened with it is still as it left it.

use crate::book::entry::{HeldAgainst, By, Entry, EntryId, Verb};
use crate::book::model::GaugeId;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::order::Rank;
use crate::history::slots::{Owner, Track};
use crate::units::{Dim, number};
use crate::words;
use std::collections::BTreeMap;

/// The check.
pub const CHECK: Check = Check {
    name: "gauge-found-off",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "a wrench found high or low, and what it tightened not tightened since",
    why: "A reading by a gauge that is off is put right in the figures. A fastener is not: it stays as tight as the wrench left it. When a \
          comparison finds a wrench off by more than the two sides can tell apart, everything it tightened since it was last found good, and that \
          nothing has tightened since, is listed here. A new `torque` by a good wrench takes it off the list.",
    wrong: "2026-05-02 heron\n  torque wheel-torque all 85 N.m  by tw-1\n2026-06-01\n  compare tw-1 87.5 reference 85.0 N.m",
    right: "2026-06-02 heron\n  torque wheel-torque all 85 N.m  by tw-2",
    look: Look::Entry(&[Verb::Compare], look),
};

fn look(cx: &Context<'_>, index: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    if entry.void || entry.broken {
        return;
    }
    let Some(compared) = cx.book.extra(entry).and_then(|extra| extra.compared) else { return };
    let other = if let HeldAgainst::Gauge(gauge) = compared.against { Some(gauge) } else { None };
    for gauge in [Some(compared.gauge), other].into_iter().flatten() {
        out.extend(of_gauge(cx, index, entry, gauge));
    }
}

fn of_gauge(cx: &Context<'_>, index: EntryId, entry: &Entry, gauge: GaugeId) -> Option<Diagnostic> {
    let items = cx.book.items_of(entry);
    let item = items.first()?;
    let dim = item.unit().get().dim;
    let high = off(cx, index, gauge, dim)?;
    let name = &cx.book.gauges.get(gauge)?.named.typed;
    // The newest comparison speaks for all before it.
    let others: Vec<EntryId> = compared(cx, gauge, dim);
    if others.iter().any(|other| cx.rank(*other) > cx.rank(index)) {
        return None;
    }
    let good = others.iter().copied().filter(|other| cx.rank(*other) < cx.rank(index) && off(cx, *other, gauge, dim).is_none());
    let good = good.max_by_key(|other| cx.rank(*other));
    let since = good.map_or(Rank::START, |good| cx.rank(good));
    let mut lines: BTreeMap<(Rank, EntryId), Vec<String>> = BTreeMap::new();
    for track in &cx.history.slots.tracks {
        let Some((line, place)) = tightened(cx, track, gauge, dim) else { continue };
        if cx.rank(line) > since && cx.rank(line) < cx.rank(index) {
            lines.entry((cx.rank(line), line)).or_default().push(place);
        }
    }
    if lines.is_empty() {
        return None;
    }
    let list: Vec<String> = lines
        .iter()
        .map(|((_, line), places)| {
            let quantity = cx.entry(*line).quantity.map_or("", |id| &cx.quantity(id).name);
            let car = cx.car_of(*line).map_or("", |car| cx.car(car));
            let places: Vec<&str> = places.iter().map(String::as_str).filter(|place| !place.is_empty()).collect();
            let place = if places.is_empty() { String::new() } else { format!(" {}", places.join(" ")) };
            format!("{quantity} of {car}{place} ({})", cx.when(*line, entry.span()))
        })
        .collect();
    // Of what it should have read: the other side of the line.
    let read = items.get(cx.book.extra(entry)?.compared?.count)?;
    let level = if gauge == cx.book.extra(entry)?.compared?.gauge { read.si } else { item.si };
    let share = if level.abs() > 0.0 {
        format!("{} %", number::format((high / level).abs() * 100.0, 1))
    } else {
        cx.difference_like(high.abs(), index, item)
    };
    let last = good.map_or_else(
        || "and it was never found good before".to_owned(),
        |good| format!("since it was last found good on {}", cx.date(good).map_or_else(String::new, |date| date.to_string())),
    );
    let mut found = CHECK
        .at(
            entry.span(),
            format!(
                "{name} reads {share} {}. Set with it, {last}: {}.",
                if high > 0.0 { "high" } else { "low" },
                words::and(&list)
            ),
        )
        .cure("tighten them again with a good one, or `waive gauge-found-off because ...`");
    for (_, line) in lines.keys() {
        found = found.and(cx.entry(*line).span(), "set with it");
    }
    Some(found)
}

/// By how much a gauge is off by the comparisons up to a line, beyond what they leave open; against a reference only: of two gauges nobody
/// knows which is right.
fn off(cx: &Context<'_>, line: EntryId, gauge: GaugeId, dim: Dim) -> Option<f64> {
    let day = cx.history.order.date(cx.book, line)?;
    let found = cx.history.gauges.correction(gauge, dim, day, None)?;
    let off = found.against == HeldAgainst::Reference && found.high.abs() > found.half() * (1.0 + 1e-6);
    off.then_some(found.high)
}

/// The lines that compare a gauge in a dimension.
fn compared(cx: &Context<'_>, gauge: GaugeId, dim: Dim) -> Vec<EntryId> {
    let lines = cx.book.entries.iter_enumerated().filter(|(_, entry)| {
        let counts = entry.verb == Verb::Compare && !entry.void && !entry.broken;
        let of = cx.book.extra(entry).and_then(|extra| extra.compared).filter(|_| counts);
        of.is_some_and(|of| of.gauge == gauge || of.against == HeldAgainst::Gauge(gauge))
            && cx.book.items_of(entry).first().is_some_and(|item| item.unit().get().dim == dim)
    });
    lines.map(|(index, _)| index).collect()
}

/// The line by which a gauge tightened something, and where; if nothing has tightened it since.
fn tightened(cx: &Context<'_>, track: &Track, gauge: GaugeId, dim: Dim) -> Option<(EntryId, String)> {
    let kind = cx.quantity(track.quantity).dimension.get();
    if !kind.dims().contains(&dim) {
        return None;
    }
    let (line, event) = track.lines().rev().find(|(line, _)| matches!(cx.entry(*line).verb, Verb::Torque | Verb::Set))?;
    let entry = cx.entry(line);
    let place = match track.owner {
        Owner::Car(_) => track.place,
        Owner::Part(_) => cx.item(event.item()).place,
    };
    (entry.verb == Verb::Torque && entry.by == By::Gauge(gauge)).then(|| (line, cx.place(place)))
}
