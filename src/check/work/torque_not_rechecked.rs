//! `torque-not-rechecked`: two sessions on wheels that were tightened and not checked again.

use crate::history::order::Rank;
use crate::book::entry::{Verb, EntryId};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::sessions::Session;

/// The check.
pub const CHECK: Check = Check {
    name: "torque-not-rechecked",
    severity: Severity::Warning,
    family: Family::Work,
    brief: "two sessions on wheels that were tightened and not checked again",
    why: "Wheel nuts settle after the first heat. They are tightened, run once, and checked again; a second \
          session without the check is how a wheel comes off. The message stands at that second session. A \
          `recheck` or a new `torque` starts the count again.",
    wrong: "  torque wheel-torque all 85 N.m\n  09:30..09:50 run s1\n  10:30..10:50 run s2",
    right: "  torque wheel-torque all 85 N.m\n  09:30..09:50 run s1\n    recheck wheel-torque ok\n  10:30..10:50 run s2",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let Some(wheels) = cx.book.vocabulary.find("wheel-torque") else { return };
    // Of each car: rank, entry.
    let mut lines: Vec<Vec<(Rank, EntryId)>> = vec![Vec::new(); cx.book.cars.len()];
    for (index, entry) in cx.book.entries.iter_enumerated() {
        if matches!(entry.verb, Verb::Torque | Verb::Recheck)
            && (entry.quantity == Some(wheels) || entry.broken)
            && !entry.void
            && let Some(list) = cx.car_of(index).and_then(|car| lines.get_mut(car.index()))
        {
            list.push((cx.rank(index), index));
        }
    }
    for (car, mut list) in lines.into_iter().enumerate() {
        list.sort_unstable();
        look_at(cx, CarId::from(car), &list, out);
    }
}

/// Goes through a car's lines with what is still to be checked at each corner: a line about one wheel says nothing of the rest.
fn look_at(cx: &Context<'_>, car: CarId, list: &[(Rank, EntryId)], out: &mut Vec<Diagnostic>) {
    let mut open: [Option<(Rank, EntryId)>; 4] = [None; 4];
    let mut said = Vec::new();
    let mut settle = |since: Option<(Rank, EntryId)>, until: Rank| {
        let Some((rank, entry)) = since.filter(|(_, entry)| !said.contains(entry)) else { return };
        if let [first, second, ..] = cx.history.sessions.between(car, rank, until) {
            let (first, second) = (cx.history.sessions.get(*first), cx.history.sessions.get(*second));
            out.push(message(cx, entry, first, second));
            said.push(entry);
        }
    };
    for (rank, index) in list {
        let entry = cx.entry(*index);
        let covered = corners(cx, *index);
        for (since, corner) in open.iter_mut().zip(Place::CORNERS) {
            if !covered.contains(&corner) {
                continue;
            }
            settle(since.take(), *rank);
            // A line with an error of its own says neither that they were tightened nor that they were not.
            if entry.verb == Verb::Torque && !entry.broken {
                *since = Some((*rank, *index));
            }
        }
    }
    for since in open {
        settle(since, Rank::END);
    }
}

/// The wheels a line is about: those it has values for, or the place it names, or all.
fn corners(cx: &Context<'_>, index: EntryId) -> Vec<Place> {
    let entry = cx.entry(index);
    let valued: Vec<Place> = cx.book.items_of(entry).iter().map(|item| item.place).collect();
    if !valued.is_empty() && !entry.broken {
        return valued;
    }
    let named = cx.book.extra(entry).and_then(|extra| extra.parts.as_ref()).and_then(|facts| facts.place);
    named.map_or_else(|| Place::CORNERS.to_vec(), |place| place.corners().to_vec())
}

fn message(cx: &Context<'_>, torque: EntryId, first: &Session, second: &Session) -> Diagnostic {
    let entry = cx.entry(torque);
    let value = cx.book.items_of(entry).iter().find(|item| Context::is_number(item));
    let value = value.map_or_else(String::new, |item| format!(" to {}", cx.typed(torque, item)));
    CHECK
        .at(
            second.label,
            format!(
                "The wheels of {} were tightened{value} ({}); {} and {} were run with no re-check.",
                cx.car(second.car),
                cx.when(torque, second.label),
                told::label(cx, first),
                told::label(cx, second)
            ),
        )
        .and(entry.span(), "tightened here")
        .cure("write `recheck wheel-torque ok` after the first session, if it was done")
}
