//! `conditions-differ`: two readings in a row that cannot be compared.

use super::conditions::{agree, says, words};
use crate::check::settings::lines::{Hit, by_line};
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{Verb, EntryId};
use crate::book::model::Condition;
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::slots::{Register, Track};

/// The check.
pub const CHECK: Check = Check {
    name: "conditions-differ",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "two readings in a row under different conditions",
    why: "The difference of two readings is that of the car only if driver, fuel and bars were the same both times. Read it \
          again as it was read before, or take the new conditions as the car's `reference` and answer this once.",
    wrong: "  found weight ... kg with driver 78 kg, fuel 20 L, bars on\n  left weight ... kg with driver 78 kg, fuel 20 L, bars off",
    right: "  found weight ... kg with driver 78 kg, fuel 20 L, bars off\n  left weight ... kg with driver 78 kg, fuel 20 L, bars off",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for line in by_line(cx, |track, out| track_of(cx, track, out)) {
        let Some(hit) = line.first() else { continue };
        let (now, before) = (cx.entry(hit.entry), cx.entry(hit.what));
        let Some(quantity) = now.quantity else { continue };
        let pairs: Vec<String> = differing(cx, hit.entry, hit.what)
            .map(|(now, before)| format!("{} now, {} before", words(cx, now), words(cx, before)))
            .collect();
        out.push(
            CHECK
                .at(
                    now.span(),
                    format!(
                        "{} was read under other conditions the last time ({}): {}. Compare only like with like.",
                        cx.quantity(quantity).name,
                        cx.when(hit.what, now.span()),
                        pairs.join("; ")
                    ),
                )
                .and(before.span(), "read before")
                .cure("read it again as before, or `waive conditions-differ because ...`"),
        );
    }
}

fn track_of(cx: &Context<'_>, track: &Track, out: &mut Vec<Hit<EntryId>>) {
    if cx.quantity(track.quantity).needs.is_empty() {
        return;
    }
    let mut before: Option<EntryId> = None;
    for (entry, event) in track.lines() {
        if event.register() != Register::Read || cx.entry(entry).verb == Verb::Bench {
            continue;
        }
        if let Some(last) = before
            && differing(cx, entry, last).next().is_some()
        {
            out.push(Hit { entry, item: event.item(), what: last });
        }
        before = Some(entry);
    }
}

/// Conditions that both lines have and that differ: now, before.
fn differing<'a>(
    cx: &Context<'a>,
    now: EntryId,
    before: EntryId,
) -> impl Iterator<Item = (&'a Condition, &'a Condition)> {
    let (now, before, context) = (cx.entry(now), cx.entry(before), *cx);
    // What either line states itself; the other's may be the car's reference.
    let stated = |entry| cx.book.extra(entry).map_or(&[][..], |extra| &extra.conditions).iter();
    let keys: Vec<&'a str> = stated(now).chain(stated(before)).map(|condition| cx.text(condition.key)).collect();
    let mut seen: Vec<String> = Vec::new();
    keys.into_iter().filter_map(move |key| {
        let key = key.to_lowercase();
        if seen.contains(&key) {
            return None;
        }
        let pair = (says(&context, now, &key)?, says(&context, before, &key)?);
        seen.push(key);
        (!agree(&context, pair.0, pair.1)).then_some(pair)
    })
}
