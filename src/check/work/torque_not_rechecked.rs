//! `torque-not-rechecked`: two sessions on wheels that were tightened and not checked again.

use crate::book::entry::Verb;
use crate::book::model::CarId;
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
    let mut lines: Vec<Vec<(u32, u32)>> = vec![Vec::new(); cx.book.cars.len()];
    for (index, entry) in cx.book.entries.iter().enumerate() {
        if matches!(entry.verb, Verb::Torque | Verb::Recheck)
            && (entry.quantity() == Some(wheels) || entry.broken)
            && !entry.void
            && let Some(list) = cx.car_of(index as u32).and_then(|car| lines.get_mut(car.0 as usize))
        {
            list.push((cx.rank(index as u32), index as u32));
        }
    }
    for (car, mut list) in lines.into_iter().enumerate() {
        list.sort_unstable();
        for (at, (rank, entry)) in list.iter().enumerate() {
            // A line with an error of its own says neither that they were tightened nor that they were not.
            if cx.entry(*entry).verb != Verb::Torque || cx.entry(*entry).broken {
                continue;
            }
            let until = list.get(at + 1).map_or(u32::MAX, |(next, _)| *next);
            let ran = cx.history.sessions.between(CarId(car as u32), *rank, until);
            if let [first, second, ..] = ran {
                let (first, second) = (cx.history.sessions.get(*first), cx.history.sessions.get(*second));
                out.push(message(cx, *entry, first, second));
            }
        }
    }
}

fn message(cx: &Context<'_>, torque: u32, first: &Session, second: &Session) -> Diagnostic {
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
