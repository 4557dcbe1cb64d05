//! `set-and-left-differ`: set to one value and left at another on the same day.

use super::lines::{Hit, by_line};
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{ItemId, Verb, EntryId};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::likeness::{self, Likeness};
use crate::history::slots::{Register, SlotEvent, Track};

/// The check.
pub const CHECK: Check = Check {
    name: "set-and-left-differ",
    severity: Severity::Warning,
    family: Family::Settings,
    brief: "set to one value and left at another in the same block",
    why: "`set` is the target, `left` what the gauge said when the work was done. If they differ by more than the gauge can \
          tell, the job is not finished or one of the two is mistyped.",
    wrong: "  set camber LF -3.2 deg\n  left camber LF -2.8 deg",
    right: "  set camber LF -3.2 deg\n  left camber LF -3.2 deg",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for line in by_line(cx, |track, out| track_of(cx, track, out)) {
        let Some(first) = line.first() else { continue };
        let Some(quantity) = cx.entry(first.entry).quantity else { continue };
        let places: Vec<String> = line
            .iter()
            .map(|hit| {
                let (set, left) = (cx.item(hit.what.1), cx.item(hit.item));
                let (target, is) = (cx.typed(hit.what.0, set), cx.typed(hit.entry, left));
                format!("{}: target {target}, left {is}", cx.slot(quantity, left.place))
            })
            .collect();
        out.push(
            CHECK
                .at(cx.item_span(first.entry, first.item), format!("{}.", places.join("; ")))
                .and(cx.entry(first.what.0).span(), "set here")
                .cure("set it again, or correct one of the two"),
        );
    }
}

fn track_of(cx: &Context<'_>, track: &Track, out: &mut Vec<Hit<(EntryId, ItemId)>>) {
    let mut target: Option<(EntryId, SlotEvent)> = None;
    for (line, event) in track.lines() {
        let entry = cx.entry(line);
        match event.register() {
            Register::Asked => {
                let plain = entry.verb == Verb::Set && Context::is_number(cx.item(event.item()));
                target = Some((line, *event)).filter(|_| plain);
            }
            Register::Unknown => target = None,
            Register::Read => {
                let Some((asked, set)) = target.filter(|_| entry.verb == Verb::Left) else { continue };
                let said = cx.entry(asked);
                target = None;
                let item = cx.item(event.item());
                if said.head != entry.head || !Context::is_number(item) {
                    continue;
                }
                if likeness::compare(cx.facts, (set, track), (*event, track)) == Likeness::Moved {
                    out.push(Hit { entry: line, item: event.item(), what: (asked, set.item()) });
                }
            }
        }
    }
}
