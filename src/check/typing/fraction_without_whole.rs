//! `fraction-without-whole`: a length that fits the last reading only if its blank stands elsewhere, `11/16` for `1 1/16`.

use crate::book::entry::{EntryId, Item, Verb};
use crate::check::settings::lines::{Hit, by_line};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::likeness;
use crate::history::slots::{Register, SlotEvent, Track};
use crate::units::{DimensionId, Number};

/// The check.
pub const CHECK: Check = Check {
    name: "fraction-without-whole",
    severity: Severity::Warning,
    family: Family::Typing,
    brief: "a length that fits the last reading only if its blank stands elsewhere",
    why: "`1 1/16` loses its blank easily and becomes `11/16`, which a rule has too: nothing is wrong with the number, only with \
          the length. It is held against what the book had there before. Where the same digits with the blank elsewhere come \
          much nearer to that, it is asked which was meant. The number counts as it is typed.",
    wrong: "  found ride-height LF 2 1/16 in\n  ...\n  found ride-height LF 21/32 in  # 2 1/32?",
    right: "  found ride-height LF 2 1/32 in",
    look: Look::Whole(look),
};

/// How many times nearer the other reading of the digits is.
const NEARER: f64 = 3.0;

/// What the digits may have been, and the event before.
struct Slip {
    meant: String,
    before: SlotEvent,
}

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for line in by_line(cx, |track, out| track_of(cx, track, out)) {
        let Some(hit) = line.first() else { continue };
        let Some(quantity) = cx.entry(hit.entry).quantity else { continue };
        let span = cx.item_span(hit.entry, hit.item);
        let item = cx.item(hit.item);
        let (slot, typed) = (cx.slot(quantity, item.place), cx.typed(hit.entry, item));
        let last = hit.what.before;
        let was = last.entry.map_or_else(
            || "what the car's declaration says".to_owned(),
            |entry| {
                let was = cx.value_like(last.value, entry, cx.item(last.item()));
                format!("{was} ({})", cx.when(entry, span))
            },
        );
        let others: Vec<String> = line
            .iter()
            .skip(1)
            .map(|other| format!("{} {}", cx.place(cx.item(other.item).place), other.what.meant))
            .collect();
        let also = if others.is_empty() { String::new() } else { format!(" Also {}?", others.join(", ")) };
        let mut message = CHECK
            .at(span, format!("{slot} is {typed}, and was {was}. {}?{also}", hit.what.meant))
            .cure(format!("write `{}`, or `waive fraction-without-whole because ...`", hit.what.meant));
        if let Some(line) = last.line(cx.book) {
            message = message.and(line.span(), "the last before");
        }
        out.push(message);
    }
}

fn track_of(cx: &Context<'_>, track: &Track, out: &mut Vec<Hit<Slip>>) {
    if !matches!(cx.quantity(track.quantity).dimension, DimensionId::LENGTH | DimensionId::TOE) {
        return;
    }
    let mut before: Option<SlotEvent> = None;
    // Where it was before a value that was asked about: who answers that by a better one is not asked again.
    let mut asked: Option<SlotEvent> = None;
    for event in &track.events {
        let item = cx.history.item(cx.book, track, event);
        let number = event.register() != Register::Unknown && item.is_some_and(Context::is_number);
        if let (Some(line), Some(item), Some(last), true) = (event.entry, item, before, number)
            && matches!(cx.entry(line).verb, Verb::Set | Verb::Found | Verb::Left | Verb::Read)
            && let Some(meant) = meant(cx, (line, item), track, (&last, event))
            && !asked.is_some_and(|then| (event.value - then.value).abs() < (event.value - last.value).abs())
        {
            out.push(Hit { entry: line, item: event.item(), what: Slip { meant, before: last } });
            asked = Some(last);
        } else if number {
            asked = None;
        }
        before = number.then_some(*event).or(before);
    }
}

/// The reading of an item's digits that is much nearer to the event before.
fn meant(
    cx: &Context<'_>,
    (line, item): (EntryId, &Item),
    track: &Track,
    (last, now): (&SlotEvent, &SlotEvent),
) -> Option<String> {
    let typed = cx.text(item.span(cx.entry(line).file));
    let number = Number::parse(typed).ok().filter(|number| typed.contains('/') && number.value != 0.0)?;
    let was = cx.history.item(cx.book, track, last)?;
    let off = now.value - last.value;
    if likeness::within(off, likeness::room(cx.facts, (last, was), (now, item))) != likeness::Likeness::Moved {
        return None;
    }
    let size = now.value / number.value;
    let readings = readings(typed).into_iter().filter_map(|text| {
        let other = Number::parse(&text).ok()?.value.abs() * number.value.signum();
        Some(((other * size - last.value).abs(), text))
    });
    let (near, text) = readings.min_by(|a, b| a.0.total_cmp(&b.0))?;
    (near * NEARER <= off.abs()).then_some(text)
}

/// The same digits with the blank elsewhere, or with none: `1 1/16` of `11/16`.
fn readings(typed: &str) -> Vec<String> {
    let unsigned = typed.trim_start_matches(['+', '-', '\u{2212}']);
    let Some((top, bottom)) = unsigned.split_once('/') else { return Vec::new() };
    let Ok(divisions) = bottom.parse::<u32>() else { return Vec::new() };
    let digits: String = top.chars().filter(char::is_ascii_digit).collect();
    if digits.len() > 6 {
        return Vec::new();
    }
    let split = |at: usize| {
        let (whole, over) = digits.split_at(at);
        let above = over.parse::<u32>().ok().filter(|above| *above > 0 && *above < divisions)?;
        let space = if whole.is_empty() { "" } else { " " };
        let text = format!("{whole}{space}{above}/{divisions}");
        (!over.starts_with('0') && !whole.starts_with('0') && text.replace('-', " ") != unsigned.replace('-', " "))
            .then_some(text)
    };
    (0..digits.len()).filter_map(split).collect()
}
