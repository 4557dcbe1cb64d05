//! `left-without-found`: left again, with no reading or change since the last time it was left.

use super::lines::{Hit, by_line};
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, Verb, ItemId};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::likeness::{self, Reading};
use crate::history::slots::{Owner, Register, Track};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "left-without-found",
    severity: Severity::Warning,
    family: Family::Settings,
    brief: "left again, with no as-found since the last time",
    why: "A `left` line says how it is now. With no `found` before it nobody can know whether it had moved since the last \
          time, or whether it was changed today. Read it before you touch it; if you only looked, write `read`.",
    wrong: "  left camber RF -3.2 deg\n  ... (a later day)\n  left camber RF -3.2 deg",
    right: "  left camber RF -3.2 deg\n  ... (a later day)\n  found camber RF -3.2 deg\n  left camber RF -3.2 deg",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for line in by_line(cx, |track, out| track_of(cx, track, out)) {
        let Some(first) = line.first() else { continue };
        let Some(quantity) = cx.entry(first.entry).quantity else { continue };
        let span = cx.entry(first.entry).span();
        let places: Vec<String> =
            line.iter().map(|hit| cx.place(cx.item(hit.item).place)).filter(|place| !place.is_empty()).collect();
        let name = &cx.quantity(quantity).name;
        let slot = if places.is_empty() { name.to_string() } else { format!("{name} {}", words::and(&places)) };
        out.push(
            CHECK
                .at(
                    span,
                    format!(
                        "No as-found for {slot}: we cannot know whether it had moved since it was left ({}).",
                        cx.when(first.what, span)
                    ),
                )
                .and(cx.entry(first.what).span(), "left here before")
                .cure("write the `found` line before it, or `read` if nothing was touched"),
        );
    }
}

/// Finds each `left` with an earlier one and nothing in between; what is found is the earlier line.
fn track_of(cx: &Context<'_>, track: &Track, out: &mut Vec<Hit<EntryId>>) {
    let quantity = cx.quantity(track.quantity);
    if quantity.disturbed_by.is_empty() && !quantity.disturbed_by_hit {
        return;
    }
    let mut before: Option<EntryId> = None;
    for (line, event) in track.lines() {
        let entry = cx.entry(line);
        if event.register() != Register::Read || entry.verb != Verb::Left {
            // Found, read or changed since: a later `left` has something to stand against.
            before = None;
            continue;
        }
        if let Some(earlier) = before
            && cx.entry(earlier).head != entry.head
            && !disturbed(cx, track, event.item(), earlier, line)
        {
            out.push(Hit { entry: line, item: event.item(), what: earlier });
        }
        before = Some(line);
    }
}

/// Whether something was changed in between that moves the reading, such as the perch under a ride height.
fn disturbed(cx: &Context<'_>, track: &Track, item: ItemId, from: EntryId, until: EntryId) -> bool {
    let car = match track.owner {
        Owner::Car(car) => Some(car),
        Owner::Part(_) => cx.car_of(until),
    };
    car.is_some_and(|car| {
        let (quantity, owner) = (track.quantity, track.owner);
        let read = Reading { quantity, place: cx.item(item).place, entry: from, owner };
        let change = likeness::changes(cx.facts, car, read, [cx.rank(from), cx.rank(until)]).next();
        change.is_some_and(|change| change.quantity.is_some())
    })
}
