//! `lash-out-of-spec`: a valve clearance far from what it is to be set to.

use crate::book::entry::Verb;
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

fn look(cx: &Context<'_>, track: &Track, out: &mut Vec<Diagnostic>) {
    if !matches!(&*cx.quantity(track.quantity).name, "lash-inlet" | "lash-exhaust") {
        return;
    }
    let mut spec: Option<SlotEvent> = None;
    for (at, event) in track.events.iter().enumerate() {
        if event.register() == Register::Asked && event.entry != u32::MAX {
            spec = Some(*event);
        }
        let (Register::Read, Some(spec)) = (event.register(), spec) else { continue };
        let off = |event: &SlotEvent| {
            let grain = cx.grain(cx.entry(event.entry), cx.item(event.item()));
            let apart = (event.value - spec.value).abs();
            apart > SHARE * spec.value.abs() * 1.000_001 && apart > grain * 1.000_001
        };
        let head = cx.entry(event.entry).head;
        let later = track.events[at + 1..].iter().take_while(|later| later.entry != u32::MAX && cx.entry(later.entry).head == head);
        let put_right = later.clone().any(|later| {
            cx.entry(later.entry).verb == Verb::Left && later.register() == Register::Read && !off(later)
                || later.register() == Register::Asked
        });
        if off(event) && !put_right {
            out.push(message(cx, track, spec, *event));
        }
    }
}

fn message(cx: &Context<'_>, track: &Track, spec: SlotEvent, event: SlotEvent) -> Diagnostic {
    let span = cx.item_span(event.entry, event.item());
    let item = cx.item(event.item());
    CHECK
        .at(
            span,
            format!(
                "{} is {}; it is to be {} ({}), and a tenth either way.",
                cx.slot(track.quantity, track.place),
                cx.typed(event.entry, item),
                cx.typed(spec.entry, cx.item(spec.item())),
                cx.when(spec.entry, span)
            ),
        )
        .and(cx.entry(spec.entry).span(), "asked for here")
        .cure("set it and write what was `left`; if it closes again, look at the valve")
}
