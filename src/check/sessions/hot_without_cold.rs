//! `hot-without-cold`: hot pressures with no cold ones to hold them against.

use crate::history::order::Rank;
use crate::book::entry::EntryId;
use crate::book::model::{CarId, EventId};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::slots::{Owner, Register};

/// The check.
pub const CHECK: Check = Check {
    name: "hot-without-cold",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "hot pressures with no cold ones to hold them against",
    why: "What a hot pressure tells is how much it rose. No cold pressure of this car is in the book since it last \
          ran before the event, neither set nor read, so there is nothing to take the hot one from.",
    wrong: "  09:30..09:50 run s1\n    read tyre-hot 1.71 1.74 1.66 1.68 bar",
    right: "  read tyre-cold 1.50 1.50 1.45 1.45 bar\n  09:30..09:50 run s1\n    read tyre-hot 1.71 1.74 1.66 1.68 bar",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let vocabulary = &cx.book.vocabulary;
    let (Some(cold), Some(hot)) = (vocabulary.find("tyre-cold"), vocabulary.find("tyre-hot")) else { return };
    let mut colds: Vec<Rank> = Vec::new();
    let mut hots: Vec<(Rank, EntryId)> = Vec::new();
    for track in cx.history.slots.of(Owner::Car(car)) {
        let lines = track.lines();
        if track.quantity == cold {
            colds.extend(lines.map(|(line, _)| cx.rank(line)));
        } else if track.quantity == hot {
            // The first of each event is enough: the later ones have the same answer.
            let mut last = None;
            for (line, _) in lines.filter(|(_, event)| event.register() == Register::Read) {
                let at = cx.book.head(cx.entry(line)).and_then(|head| head.event);
                if last != Some(at) {
                    hots.push((cx.rank(line), line));
                }
                last = Some(at);
            }
        }
    }
    // A line with an error may have been the one.
    let lost = cx.history.slots.lost.iter().filter(|lost| lost.owner == Owner::Car(car) && lost.quantity == cold);
    colds.extend(lost.flat_map(|lost| &lost.lines).map(|line| cx.rank(*line)));
    colds.sort_unstable();
    hots.sort_unstable();
    let mut said = None;
    for (rank, entry) in hots {
        let Some(event) = cx.book.head(cx.entry(entry)).and_then(|head| head.event) else { continue };
        if said == Some(event) {
            continue;
        }
        // Since the car's last session before this event.
        let before = cx.history.sessions.between(car, Rank::START, rank).iter().rev();
        let last = before.map(|id| cx.history.sessions.get(*id)).find(|session| session.event != Some(event));
        let from = last.map_or(Rank::START, |session| session.rank);
        let next = colds.partition_point(|cold| *cold < from);
        if colds.get(next).is_none_or(|cold| *cold > rank) {
            out.push(message(cx, car, entry, event));
        }
        said = Some(event);
    }
}

fn message(cx: &Context<'_>, car: CarId, entry: EntryId, event: EventId) -> Diagnostic {
    let name = cx.book.events.get(event).map_or("the event", |event| &event.named.typed);
    CHECK
        .at(
            cx.entry(entry).span(),
            format!("Hot pressures of {} at {name}, and no cold ones since it last ran before.", cx.car(car)),
        )
        .cure("write the `tyre-cold` line that belongs before the session")
}
