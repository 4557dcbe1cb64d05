//! `found-never-left`: found out of place, not left or set again, and the car ran.

use crate::history::order::Rank;
use super::drift::drifts;
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, Verb};
use crate::book::model::CarId;
use crate::diagnostics::{Diagnostic, Severity};
use crate::words;
use rustc_hash::FxHashSet;
use std::collections::BTreeMap;

/// The check.
pub const CHECK: Check = Check {
    name: "found-never-left",
    severity: Severity::Warning,
    family: Family::Settings,
    brief: "found out of place, not left or set again, and the car ran",
    why: "Something was found to have moved, and the next thing in the book is a session. Either it was put right and nobody \
          wrote the `left` line, or it ran as it was found; both change what the session's laps mean. If it ran so on \
          purpose, answer `found-has-drifted` on the `found` line.",
    wrong: "  found camber RF -2.7 deg\n  run s1",
    right: "  found camber RF -2.7 deg\n  left camber RF -3.2 deg\n  run s1",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let answered: FxHashSet<EntryId> = cx
        .book
        .entries
        .iter()
        .filter(|entry| entry.verb == Verb::Waive)
        .filter(|entry| {
            let check = cx.book.extra(entry).and_then(|extra| extra.check);
            check.is_some_and(|name| cx.text(name).eq_ignore_ascii_case("found-has-drifted"))
        })
        .filter_map(|entry| entry.parent)
        .collect();
    // By the session that ran with it: what was out, and the first line that says so.
    let mut ran: BTreeMap<EntryId, (Vec<String>, EntryId)> = BTreeMap::new();
    for line in drifts(cx) {
        for hit in line {
            let Some(car) = cx.car_of(hit.entry).filter(|_| !answered.contains(&hit.entry)) else { continue };
            let Some(run) = next_run(cx, car, cx.rank(hit.entry)) else { continue };
            if hit.what.again.is_some_and(|again| cx.rank(again) < cx.rank(run)) {
                continue;
            }
            if let Some(quantity) = cx.entry(hit.entry).quantity {
                let slot = cx.slot(quantity, cx.item(hit.item).place);
                ran.entry(run).or_insert((Vec::new(), hit.entry)).0.push(slot);
            }
        }
    }
    for (run, (slots, found)) in ran {
        let span = cx.entry(run).span();
        let label = cx.book.run(cx.entry(run)).map_or("", |run| cx.text(run.label));
        let (were, it) = if slots.len() == 1 { ("was", "it") } else { ("were", "them") };
        out.push(
            CHECK
                .at(
                    span,
                    format!(
                        "{} {were} found out of place ({}) and not left or set since; the car ran {label} with {it} so.",
                        words::and(&slots),
                        cx.when(found, span)
                    ),
                )
                .and(cx.entry(found).span(), "found here")
                .cure("write the `left` line, or answer `found-has-drifted` where it was found"),
        );
    }
}

/// The car's first session after a rank.
fn next_run(cx: &Context<'_>, car: CarId, rank: Rank) -> Option<EntryId> {
    let sessions = &cx.history.sessions;
    let list = sessions.of_car.get(car)?;
    let at = list.partition_point(|id| sessions.get(*id).rank <= rank);
    list.get(at).map(|id| sessions.get(*id).entry)
}
