//! What the checks on readings share: each run of readings that come to the same, and the words for a limit and a margin.
//!
//! Must not know any particular check.

use crate::book::model::{CarId, EventId, RuleId};
use crate::book::place::Place;
use crate::check::{Check, Context};
use crate::diagnostics::Diagnostic;
use crate::rules::judge::{Judged, Margin, Side, Verdict};
use crate::source::Span;
use std::collections::BTreeMap;

/// A car's readings with that verdict, rule by rule: each in which a place has it that had not before, or not yet at that event. Until
/// the place passes again it is one mistake. What was found so and not left so, and what a local rule outranks, are not spoken of.
pub(super) fn firsts(cx: &Context<'_>, car: CarId, verdict: &Verdict, side: Option<Side>) -> Vec<Judged> {
    let Some(class) = class(cx, car) else { return Vec::new() };
    let mut open: BTreeMap<(RuleId, Place), Option<EventId>> = BTreeMap::new();
    let mut firsts = Vec::new();
    cx.scrutiny().each(car, class, |held| {
        let one = &held.judged;
        if one.mended || one.outranked.is_some() || !one.reading_counts() {
            return;
        }
        let is = one.verdict == *verdict
            && side.is_none_or(|side| one.margin.is_some_and(|near| near.side == side));
        let event = held.reading.event;
        let mut new = false;
        // Each driver, each stint is its own.
        let places = held.reading.values.iter().map(|value| value.place);
        for place in places.filter(|_| !held.reading.driven) {
            let key = (one.rule, place);
            if !is || !one.told().any(|margin| margin.value.place == place) {
                open.remove(&key);
                continue;
            }
            let told = open.get(&key).copied();
            if told.is_none_or(|at| event.is_some() && at != event) {
                open.insert(key, event);
                new = true;
            }
        }
        if new || is && held.reading.driven {
            firsts.push(held.kept());
        }
    });
    firsts
}

/// The class a car runs in; `None` where the book has no rule, or no class for it.
pub(super) fn class<'a>(cx: &Context<'a>, car: CarId) -> Option<&'a str> {
    let class = &cx.book.cars.get(car)?.class;
    (!cx.book.rules.is_empty() && !cx.book.cars.is_empty()).then_some(class.as_str())
}

/// Where a reading stands: its number, else its line.
pub(super) fn place(cx: &Context<'_>, judged: &Judged, margin: &Margin) -> Span {
    let line = judged.reading.as_ref().and_then(|reading| reading.entry).map(|entry| cx.entry(entry).span());
    let typed = margin.value.typed.filter(|_| judged.reading.as_ref().is_some_and(|reading| !reading.figure));
    typed.or(line).or(margin.value.typed).unwrap_or_else(|| cx.book.rules[judged.rule].named.declared)
}

/// A message about a reading that fails: what it is, what is asked, by how much.
pub(super) fn fails(cx: &Context<'_>, check: &Check, judged: &Judged, short: &str) -> Option<Diagnostic> {
    let (scrutiny, margin) = (cx.scrutiny(), judged.margin?);
    let rule = scrutiny.rule(judged.rule);
    let limit = if margin.side == Side::Min { rule.min } else { rule.max }?;
    let days = scrutiny.days_text(rule);
    let days = if days.is_empty() { days } else { format!(" {days}") };
    let size = scrutiny.margin_text(&margin);
    let also = scrutiny.also_text(judged);
    let also = if also.is_empty() { also } else { format!(" Also {also}.") };
    let event = judged.reading.as_ref().and_then(|reading| cx.book.events.get(reading.event?));
    let event = event.map_or_else(String::new, |event| format!(" at {}", event.named.typed));
    let as_typed = if margin.side == Side::Min {
        margin.value.as_typed - margin.limit
    } else {
        margin.limit - margin.value.as_typed
    };
    let only = if as_typed >= 0.0 { " As typed it passes, by no more than its gauge is off." } else { "" };
    Some(
        check
            .at(
                place(cx, judged, &margin),
                format!(
                    "{} is {}{event}; {} ({}) asks {} {}{days}: {short} {size}.{only}{also}",
                    scrutiny.subject_text(rule, judged),
                    scrutiny.value_text(&margin.value, &margin),
                    rule.named.typed,
                    scrutiny.whose_text(rule),
                    margin.side.words(),
                    scrutiny.limit_text(&limit),
                ),
            )
            .and(rule.named.declared, "the rule"),
    )
}
