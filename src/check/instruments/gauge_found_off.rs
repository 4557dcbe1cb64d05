//! `gauge-found-off`: a torque wrench reads high or low, and what was tightened with it is still as it left it.

use crate::book::entry::{By, EntryId, HeldAgainst, Verb};
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
    look: Look::Whole(look),
};

/// A gauge, and the dimension of what it was compared in.
type Of = (GaugeId, Dim);

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    if cx.history.gauges.is_empty() {
        return;
    }
    let mut compared: BTreeMap<Of, Vec<(Rank, EntryId)>> = BTreeMap::new();
    for (index, entry) in cx.book.entries.iter_enumerated() {
        if entry.verb != Verb::Compare || entry.void || entry.broken {
            continue;
        }
        let Some(both) = cx.book.extra(entry).and_then(|extra| extra.compared) else { continue };
        let Some(item) = cx.book.items_of(entry).first() else { continue };
        let other = if let HeldAgainst::Gauge(gauge) = both.against { Some(gauge) } else { None };
        for gauge in [Some(both.gauge), other].into_iter().flatten() {
            compared.entry((gauge, item.unit().get().dim)).or_default().push((cx.rank(index), index));
        }
    }
    let mut tight: BTreeMap<Of, BTreeMap<(Rank, EntryId), Vec<String>>> = BTreeMap::new();
    for track in &cx.history.slots.tracks {
        let Some((line, gauge, dim, place)) = tightened(cx, track) else { continue };
        tight.entry((gauge, dim)).or_default().entry((cx.rank(line), line)).or_default().push(place);
    }
    for (of, mut lines) in compared {
        lines.sort_unstable();
        let Some(tight) = tight.get(&of) else { continue };
        out.extend(of_gauge(cx, of, &lines, tight));
    }
}

/// The newest comparison speaks for all before it.
fn of_gauge(
    cx: &Context<'_>,
    (gauge, dim): Of,
    compared: &[(Rank, EntryId)],
    tight: &BTreeMap<(Rank, EntryId), Vec<String>>,
) -> Option<Diagnostic> {
    let ((rank, index), before) = compared.split_last()?;
    let entry = cx.entry(*index);
    let items = cx.book.items_of(entry);
    let item = items.first()?;
    let high = off(cx, *index, gauge, dim)?;
    let name = &cx.book.gauges.get(gauge)?.named.typed;
    let good = before.iter().rev().find(|(_, other)| off(cx, *other, gauge, dim).is_none());
    let since = good.map_or(Rank::START, |(good, _)| *good);
    let lines: Vec<(EntryId, &Vec<String>)> = tight
        .iter()
        .filter(|((at, _), _)| *at > since && at < rank)
        .map(|((_, line), places)| (*line, places))
        .collect();
    if lines.is_empty() {
        return None;
    }
    let list: Vec<String> = lines
        .iter()
        .map(|(line, places)| {
            let quantity = cx.entry(*line).quantity.map_or("", |id| &cx.quantity(id).name);
            let car = cx.car_of(*line).map_or("", |car| cx.car(car));
            let places: Vec<&str> = places.iter().map(String::as_str).filter(|place| !place.is_empty()).collect();
            let place = if places.is_empty() { String::new() } else { format!(" {}", places.join(" ")) };
            format!("{quantity} of {car}{place} ({})", cx.when(*line, entry.span()))
        })
        .collect();
    // Of what it should have read: the other side of the line.
    let both = cx.book.extra(entry)?.compared?;
    let read = items.get(both.count)?;
    let level = if gauge == both.gauge { read.si } else { item.si };
    let share = if level.abs() > 0.0 {
        format!("{} %", number::format((high / level).abs() * 100.0, 1))
    } else {
        cx.difference_like(high.abs(), *index, item)
    };
    let last = good.map_or_else(
        || "and it was never found good before".to_owned(),
        |(_, good)| {
            let day = cx.date(*good).map_or_else(String::new, |date| date.to_string());
            format!("since it was last found good on {day}")
        },
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
    for (line, _) in lines {
        found = found.and(cx.entry(line).span(), "set with it");
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

/// The line that tightened something last, by which gauge, in which dimension, and where.
fn tightened(cx: &Context<'_>, track: &Track) -> Option<(EntryId, GaugeId, Dim, String)> {
    let last = |line: EntryId| matches!(cx.entry(line).verb, Verb::Torque | Verb::Set);
    let (line, event) = track.lines().rev().find(|(line, _)| last(*line))?;
    let entry = cx.entry(line);
    let By::Gauge(gauge) = entry.by else { return None };
    if entry.verb != Verb::Torque {
        return None;
    }
    let place = match track.owner {
        Owner::Car(_) => track.place,
        Owner::Part(_) => cx.item(event.item()).place,
    };
    Some((line, gauge, cx.item(event.item()).unit().get().dim, cx.place(place)))
}
