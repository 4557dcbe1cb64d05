//! `meter-against-sessions`: a meter moved by other than the sessions add up to.

use crate::book::entry::EntryId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::slots::{Owner, Register, SlotEvent, Track};
use crate::units::DimensionId;

/// The check.
pub const CHECK: Check = Check {
    name: "meter-against-sessions",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "a meter moved by other than the sessions add up to",
    why: "Between two readings of an hour meter, the minutes of the sessions should add up to what it moved. More \
          than 15 minutes and 15 % apart, a session is missing or has the wrong times, or a reading was misread. \
          It is only said where every session between has its minutes.",
    wrong: "  read engine-hours 61.3 h\n  09:00..09:30 run s1\n  read engine-hours 64.9 h",
    right: "  read engine-hours 61.3 h\n  09:00..09:30 run s1\n  read engine-hours 61.8 h",
    look: Look::Track(look),
};

/// Apart by more than this share of the sessions' sum ...
const SHARE: f64 = 0.15;
/// ... and by more than these minutes.
const MINUTES: f64 = 15.0;

fn look(cx: &Context<'_>, track: &Track, out: &mut Vec<Diagnostic>) {
    let quantity = cx.quantity(track.quantity);
    let Owner::Car(car) = track.owner else { return };
    if !quantity.counter || quantity.dimension != DimensionId::TIME {
        return;
    }
    // Sessions under a wrong date add up wrongly on both sides of it.
    if cx.history.sessions.of(car).any(|(_, session)| told::is_misdated(cx, session)) {
        return;
    }
    let mut before: Option<(EntryId, SlotEvent)> = None;
    for (at, event) in track.events.iter().enumerate() {
        // A reading that the next one goes back from is what that one's message is about.
        let next = track.events.get(at + 1).filter(|next| next.register() == Register::Read);
        let doubted = next.is_some_and(|next| next.value < event.value);
        let Some(line) = event.entry.filter(|_| event.register() == Register::Read) else {
            before = None;
            continue;
        };
        if let Some((earlier, before)) = before.filter(|(_, before)| before.value <= event.value) {
            let sessions = cx.history.sessions.between(car, cx.rank(earlier), cx.rank(line));
            let moved = (event.value - before.value) / 60.0;
            // `None` as soon as one session does not say its minutes.
            let sum: Option<f64> = sessions.iter().map(|id| cx.history.sessions.get(*id).all_minutes()).sum();
            if let Some(sum) = sum.filter(|_| !sessions.is_empty() && !doubted) {
                let apart = (moved - sum).abs();
                if apart > MINUTES && apart > SHARE * sum {
                    out.push(message(cx, track, (earlier, before), (line, *event), (moved, sum), sessions.len()));
                }
            }
        }
        // After a reading that went back, the next one has nothing sure to be held against.
        before = before.is_none_or(|(_, before)| before.value <= event.value).then_some((line, *event));
    }
}

fn message(
    cx: &Context<'_>,
    track: &Track,
    (earlier, before): (EntryId, SlotEvent),
    (line, event): (EntryId, SlotEvent),
    (moved, sum): (f64, f64),
    count: usize,
) -> Diagnostic {
    let span = cx.item_span(line, event.item());
    let sessions = if count == 1 { "the session between adds".to_owned() } else { format!("the {count} sessions between add") };
    CHECK
        .at(
            span,
            format!(
                "{} moved {} since {}; {sessions} up to {}.",
                cx.quantity(track.quantity).name,
                told::minutes(moved),
                cx.when(earlier, span),
                told::minutes(sum)
            ),
        )
        .and(cx.entry(earlier).span(), format!("{} here", cx.typed(earlier, cx.item(before.item()))))
        .cure("look for a session that is missing, or for a misread meter")
}
