//! `lash-out-of-spec`: a valve clearance far from what it is to be set to.

use crate::book::entry::{Verb, EntryId};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::slots::{Register, SlotEvent, Track};

/// The check.
pub const CHECK: Check = Check {
    name: "lash-out-of-spec",
    severity: Severity::Warning,
    family: Family::Work,
    brief: "a valve clearance far from what it is to be set to",
    why: "The clearance that a `set` asks for on this car is its spec, and this reading is off by more than a \
          tenth of it and by more than the feelers can tell. A clearance that closes is a valve going into its \
          seat. A later `left` of the same block that is right again answers it.",
    wrong: "  set lash-exhaust 0.30 0.30 0.30 0.30 mm\n  found lash-exhaust 0.30 0.19 0.30 0.30 mm  with cold",
    right: "  found lash-exhaust 0.30 0.19 0.30 0.30 mm  with cold\n  left lash-exhaust 0.30 0.30 0.30 0.30 mm  with cold",
    look: Look::Track(look),
};

/// Further off than this share of the spec is asked about.
const SHARE: f64 = 0.1;

/// A value and its line.
type Line = (EntryId, SlotEvent);

fn look(cx: &Context<'_>, track: &Track, out: &mut Vec<Diagnostic>) {
    if !matches!(&*cx.quantity(track.quantity).name, "lash-inlet" | "lash-exhaust") {
        return;
    }
    let mut spec: Option<Line> = None;
    // Readings with the spec they are held against, and whether they are off; `None` for a line that answers.
    let mut held: Vec<(Line, Option<Line>)> = Vec::new();
    for (line, event) in track.lines() {
        if event.register() == Register::Asked {
            spec = Some((line, *event));
        }
        let wrong = spec.filter(|(_, spec)| event.register() == Register::Read && is_off(cx, line, event, spec));
        held.push(((line, *event), wrong));
    }
    // From the end: a `left` that is right, or a `set`, later in the same block answers what was found.
    let mut answered = None;
    let mut messages = Vec::new();
    for ((line, event), wrong) in held.iter().rev() {
        let entry = cx.entry(*line);
        match wrong {
            Some(spec) if answered != Some(entry.head) => messages.push(message(cx, track, *spec, (*line, *event))),
            None if entry.verb == Verb::Left || event.register() == Register::Asked => answered = Some(entry.head),
            _ => {}
        }
    }
    out.extend(messages.into_iter().rev());
}

fn is_off(cx: &Context<'_>, line: EntryId, event: &SlotEvent, spec: &SlotEvent) -> bool {
    let grain = cx.grain(cx.entry(line), cx.item(event.item()));
    let apart = (event.value - spec.value).abs();
    apart > SHARE * spec.value.abs() * 1.000_001 && apart > grain * 1.000_001
}

fn message(cx: &Context<'_>, track: &Track, (asked, spec): Line, (line, event): Line) -> Diagnostic {
    let span = cx.item_span(line, event.item());
    let item = cx.item(event.item());
    CHECK
        .at(
            span,
            format!(
                "{} is {}; it is to be {} ({}), and a tenth either way.",
                cx.slot(track.quantity, track.place),
                cx.typed(line, item),
                cx.typed(asked, cx.item(spec.item())),
                cx.when(asked, span)
            ),
        )
        .and(cx.entry(asked).span(), "asked for here")
        .cure("set it and write what was `left`; if it closes again, look at the valve")
}
