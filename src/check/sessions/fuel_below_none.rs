//! `fuel-below-none`: the sessions burn more fuel than there is.

use crate::book::entry::EntryId;
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::fuel::{self, Flow, Since, Tank};
use crate::history::rank::Rank;
use crate::history::slots::{Owner, SlotEvent};
use crate::units::{DimensionId, table};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "fuel-below-none",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "a session burns more fuel than is aboard",
    why: "By what was last stated and added, and what the sessions since have burnt (`fuel-used` read in them, else the car's `fuel-rate` by \
          their minutes), there is less than none left. A fill was not written down, or the rate is too high. Until it is put right nobody knows \
          how much is aboard. Between sessions it is asked only where fills that add are written down.",
    wrong: "  set fuel-rate 30 L/h\n  fill fuel 20 L\n  10:00..11:00 run s1",
    right: "  set fuel-rate 30 L/h\n  fill fuel 40 L\n  10:00..11:00 run s1",
    look: Look::Car(look),
};

/// Less than this is the rounding of a rate, cubic metres: half a litre.
const NONE: f64 = -0.0005;

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let events = |name: &str| {
        let id = cx.book.vocabulary.find(name)?;
        cx.history.slots.find(Owner::Car(car), id, Place::CAR).map(|track| track.events.as_slice())
    };
    let Some(all) = events("fuel") else { return };
    let (rate, used) = (events("fuel-rate").unwrap_or_default(), events("fuel-used").unwrap_or_default());
    let lost = cx.book.vocabulary.find("fuel-used").map_or(&[][..], |id| cx.history.slots.lost_of(Owner::Car(car), id));
    // From one line between sessions to the next: what is then aboard is stated, or was added up.
    let rank = |event: &SlotEvent| event.rank(&cx.history.order).unwrap_or(Rank::START);
    let stated = |event: &SlotEvent| {
        let added = event.entry.is_some_and(|entry| fuel::adds(cx.book, cx.files, entry, cx.item(event.item())));
        !added
    };
    let mut starts: Vec<usize> = (0..all.len()).filter(|at| all.get(*at).is_some_and(stated)).collect();
    starts.push(all.len());
    for [from, to] in starts.array_windows() {
        let Some(fuel) = all.get(*from..*to) else { continue };
        let until = all.get(*to).map_or(Rank::END, rank);
        let tank = Tank { fuel, rate, used, lost };
        let texts = (cx.book, cx.files, &cx.history.order);
        let Ok(flows) = tank.flows(texts, &cx.history.sessions, (car, until), Since::Stated) else { continue };
        // Whoever writes no fills between sessions keeps no account: of those only one session can burn too much.
        let kept = flows.iter().any(|flow| matches!(flow, Flow::Added(_)));
        let first = flows.iter().find_map(|flow| match flow {
            Flow::Used { run, .. } | Flow::Burnt { run, .. } => Some(*run),
            _ => None,
        });
        if let Some((run, short)) = dry(cx, &flows).filter(|(run, _)| kept || first == Some(*run)) {
            let Some(session) = cx.history.sessions.of(car).map(|(_, session)| session).find(|one| one.entry == run) else {
                continue;
            };
            let litre = table().find_one("L", DimensionId::VOLUME).map_or(1.0, |unit| unit.get().from_si(short));
            let message = format!(
                "{} burns {} L more by {} than {} has aboard.",
                told::session(cx, session),
                words::amount(litre, 1),
                session_words(&flows, run),
                cx.car(car)
            );
            out.push(
                CHECK
                    .at(session.label, message)
                    .cure("write the fill that is missing (`fill fuel +20 L`), or correct `fuel-rate` or `fuel-used`"),
            );
        }
    }
}

fn session_words(flows: &[Flow], run: EntryId) -> &'static str {
    let read = flows.iter().any(|flow| matches!(flow, Flow::Used { run: of, .. } if *of == run));
    if read { "what was read of it" } else { "its minutes" }
}

/// The first session that leaves less than none, and by how much, cubic metres.
fn dry(cx: &Context<'_>, flows: &[Flow]) -> Option<(EntryId, f64)> {
    let mut level = 0.0;
    for (at, flow) in flows.iter().enumerate() {
        level = flow.after(cx.book, level);
        let (Flow::Used { run, .. } | Flow::Burnt { run, .. }) = flow else { continue };
        // What is known of a session only as a whole is booked at its start: what its stops added counts with it.
        let at_stops: f64 = flows
            .iter()
            .skip(at + 1)
            .map_while(|later| match later {
                Flow::Added(event) if event.entry.and_then(|entry| cx.history.during(cx.book, entry)) == Some(*run) => {
                    Some(cx.item(event.item()).si)
                }
                _ => None,
            })
            .sum();
        let whole = if flow.of_all() { at_stops } else { 0.0 };
        if level + whole < NONE {
            return Some((*run, -(level + whole)));
        }
    }
    None
}
