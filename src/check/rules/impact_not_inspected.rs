//! `impact-not-inspected`: a car was hit, and nobody has looked at the dated items on it.

use crate::history::order::Rank;
use crate::book::entry::{Verdict, EntryId};
use crate::book::model::PartId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::dated;
use crate::history::parts::Where;
use crate::history::sessions::Session;
use crate::words;
use std::collections::BTreeMap;

/// The check.
pub const CHECK: Check = Check {
    name: "impact-not-inspected",
    severity: Severity::Warning,
    family: Family::Rules,
    brief: "after an impact, dated items were not looked at",
    why: "An impact sends every dated item on the car (harness, seat, extinguisher, net, helmet, fuel cell) to be looked at, \
          whatever its date: webbing stretched once does not stretch again. Say what was found (`inspect hb-1 good \"no stitch \
          lifted\"`), that it was serviced, or take it off. It is asked about once for each impact, at the first session run \
          without it, or at the impact itself.",
    wrong: "  hit RF \"tyre wall\" during s6\n  15:00..15:20 run s7",
    right: "  hit RF \"tyre wall\" during s6\n  inspect hb-1 good \"webbing and bolts, no stitch lifted\"\n  15:00..15:20 run s7",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    // By impact: the items nobody looked at, and the first session run with one of them.
    let mut found: BTreeMap<EntryId, (Vec<PartId>, Option<&Session>)> = BTreeMap::new();
    let end = cx.history.order.entries.next_key();
    for part in cx.book.parts.keys() {
        let lines = cx.history.parts.get(part);
        let hits: Vec<(Rank, EntryId)> = lines
            .stays
            .iter()
            .filter_map(|stay| stay.car.map(|car| (car, stay)))
            .flat_map(|(car, stay)| cx.history.disturbances.hits(car, stay.from, stay.until.min(end)))
            .map(|hit| (hit.rank, hit.entry))
            .filter(|(_, hit)| !cx.entry(*hit).broken)
            .collect();
        if hits.is_empty() || dated::of_part(cx.book, cx.history, part, end).is_none() {
            continue;
        }
        for (rank, hit) in hits {
            let good = |seen: &&crate::history::parts::Seen| {
                seen.rank > rank && (seen.service || seen.verdict == Some(Verdict::Good))
            };
            let looked = lines.seen.iter().find(good).map_or(Rank::END, |seen| seen.rank);
            let ran = lines.stays.iter().filter(|stay| stay.until > rank).find_map(|stay| {
                let sessions =
                    cx.history.sessions.legs_between(stay.car?, stay.from.max(rank.next()), stay.until.min(looked));
                sessions.first().copied()
            });
            // Looked at and not passed as good: whoever did knows it, as long as the car stands.
            let seen = lines.seen.iter().any(|seen| seen.rank > rank);
            let gone = lines.now().is_gone() || matches!(lines.now(), Where::Failed | Where::Quarantine);
            if ran.is_none() && (looked != Rank::END || seen || gone) {
                continue;
            }
            let (parts, first) = found.entry(hit).or_default();
            parts.push(part);
            if let Some(session) = ran
                && first.is_none_or(|first| session.rank < first.rank)
            {
                *first = Some(session);
            }
        }
    }
    for (hit, (parts, session)) in found {
        out.push(message(cx, hit, &parts, session));
    }
}

fn message(cx: &Context<'_>, hit: EntryId, parts: &[PartId], session: Option<&Session>) -> Diagnostic {
    let names: Vec<String> =
        parts.iter().map(|part| format!("{} ({})", cx.part(*part), cx.kind_of(*part))).collect();
    let names = words::and(&names);
    let line = cx.entry(hit).span();
    let cure = format!("look at {names} and write `inspect PART good` with what you saw, or take it off");
    match session {
        Some(session) => CHECK
            .at(
                session.label,
                format!(
                    "{} ran {} with {names}, on it in an impact ({}) and not passed as good since.",
                    cx.car(session.car),
                    told::session(cx, session),
                    cx.when(hit, session.label)
                ),
            )
            .and(line, "the impact")
            .cure(cure),
        None => CHECK
            .at(line, format!("After this impact nobody has looked at {names}."))
            .cure(cure),
    }
}
