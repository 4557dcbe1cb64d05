//! Sessions of an event that were paid for and lost to a failure or an impact, and the entry money they were paid with.
//!
//! Must not know parts or jobs.

use super::Costs;
use super::failure::{FailureCost, Lost};
use super::posting::Kind;
use super::ran::Ran;
use crate::book::Book;
use crate::book::model::{CarId, EventId};
use crate::book::names::Thing;
use rustc_hash::{FxHashMap, FxHashSet};

/// Lays the lost sessions of each car at each event to its last failure or impact there. They are those planned (where the
/// event says how many) and not run; else those that another car still ran there after this one stopped for good.
pub fn sessions(book: &Book, ran: &Ran<'_>, costs: &Costs, failures: &mut [FailureCost]) {
    let mut fees: FxHashMap<(CarId, EventId), Vec<usize>> = FxHashMap::default();
    for (at, posting) in costs.postings.iter().enumerate().filter(|(_, posting)| posting.kind == Kind::Entry)
    {
        if let (Some(car), Some(event)) = (posting.car, posting.event) {
            fees.entry((car, event)).or_default().push(at);
        }
    }
    let mut done: FxHashSet<(CarId, EventId)> = FxHashSet::default();
    for one in failures.iter_mut().rev() {
        let Some(event) = one.event else { continue };
        if !done.insert((one.car, event)) {
            continue;
        }
        if book.unread.has(Some(Thing::Event(event)), "sessions") {
            one.unclear = true;
            continue;
        }
        let run = ran.sessions(event).filter(|session| session.car == one.car).count() as u32;
        let stated = planned(book, event, one.car);
        let lost = match stated {
            Some(planned) => planned.saturating_sub(run),
            None => after_it_stopped(ran, one, event),
        };
        if lost == 0 {
            continue;
        }
        let all = stated.unwrap_or(run + lost);
        one.fees = fees.get(&(one.car, event)).cloned().unwrap_or_default();
        one.lost = Some(Lost { sessions: lost, planned: all, stated: stated.is_some(), entry: None });
    }
}

/// Sessions planned for a car: the last of the event's numbers that names it, else the last that names no car.
fn planned(book: &Book, event: EventId, car: CarId) -> Option<u32> {
    let sessions = &book.events.get(event)?.sessions;
    let named = sessions.iter().rev().find(|(_, cars)| cars.contains(&car));
    named.or_else(|| sessions.iter().rev().find(|(_, cars)| cars.is_empty())).map(|(count, _)| *count)
}

/// Of another car, the most sessions that it ran at the event after this one's last; 0 where this one ran on after the failure.
fn after_it_stopped(ran: &Ran<'_>, failure: &FailureCost, event: EventId) -> u32 {
    let own = ran.sessions(event).filter(|session| session.car == failure.car);
    let Some(last) = own.last().filter(|last| last.rank < failure.rank) else { return 0 };
    let mut counts: FxHashMap<CarId, u32> = FxHashMap::default();
    let mut most = 0;
    let others =
        ran.sessions(event).filter(|session| session.car != failure.car && session.start >= last.end);
    for session in others {
        let count = counts.entry(session.car).or_default();
        *count += 1;
        most = most.max(*count);
    }
    most
}
