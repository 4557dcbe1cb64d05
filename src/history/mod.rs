//! The fold of a book's entries: when each happened, where every part is, what every slot holds, at any moment.
//!
//! Must not know reports or messages. A [`Problem`] is a fact; `check` puts it into words.

pub mod clicks;
pub mod diff;
pub mod disturb;
pub mod intervals;
pub mod jobs;
pub mod moment;
pub mod order;
pub mod parts;
pub mod problem;
pub mod sessions;
pub mod slots;
pub mod state;
pub mod tally;
pub mod time;
pub mod usage;

use crate::book::Book;
use crate::book::entry::{Item, Verb};
use crate::source::Files;
use disturb::Disturbances;
use jobs::Jobs;
pub use moment::{Moment, MomentTrouble};
use order::Order;
use parts::Parts;
use problem::Problem;
use sessions::Sessions;
use slots::{Owner, SlotEvent, Slots, Track};

/// Everything the fold knows.
#[derive(Debug, Clone, Default)]
pub struct History {
    /// When and in what order.
    pub order: Order,
    /// Sessions.
    pub sessions: Sessions,
    /// Parts.
    pub parts: Parts,
    /// Settings and readings.
    pub slots: Slots,
    /// Jobs and promises.
    pub jobs: Jobs,
    /// What makes readings stale.
    pub disturbances: Disturbances,
    /// What is wrong.
    pub problems: Vec<Problem>,
}

/// Folds a book.
#[must_use]
pub fn fold(book: &Book, files: &Files) -> History {
    let mut problems = Vec::new();
    let order = order::order(book);
    // Which lines are about settings can be sorted out while sessions and parts are folded.
    let (lines, (sessions, parts)) = rayon::join(
        || slots::lines(book, &order),
        || {
            let sessions = sessions::sessions(book, files, &order, &mut problems);
            let parts = parts::parts(book, &order, &sessions, &mut problems);
            (sessions, parts)
        },
    );
    let slots = slots::slots(book, files, &order, &parts, lines, &mut problems);
    let disturbances = disturb::disturbances(book, &order, &parts, &slots);
    sold(book, &order, &parts, &mut problems);
    let jobs = jobs::jobs(book, &order, &mut problems);
    History { order, sessions, parts, slots, jobs, disturbances, problems }
}

/// Lines about a car after its sale: one problem per car.
fn sold(book: &Book, order: &Order, parts: &Parts, problems: &mut Vec<Problem>) {
    let mut cars: Vec<_> = parts.sold.iter().map(|(car, sale)| (*car, *sale)).collect();
    cars.sort_unstable();
    for (car, (rank, sale)) in cars {
        let mut after = order.entries.iter().skip(rank as usize + 1).filter(|index| {
            let entry = &book.entries[**index as usize];
            entry.verb != Verb::Note && book.head(entry).is_some_and(|head| head.car == Some(car))
        });
        if let Some(first) = after.next() {
            problems.push(Problem::SoldCarTouched { entry: *first, car, sale, more: after.count() as u32 });
        }
    }
}

impl History {
    /// What was typed for a slot's value; `None` where the line only made it unknown.
    #[must_use]
    pub fn item<'a>(&self, book: &'a Book, track: &Track, event: &SlotEvent) -> Option<&'a Item> {
        if event.register() == slots::Register::Unknown {
            return None;
        }
        if event.entry != u32::MAX {
            return book.items.get(event.item() as usize);
        }
        let Owner::Car(car) = track.owner else { return None };
        let opening = &book.cars.get(car.0 as usize)?.opening;
        let items = opening.iter().filter(|(quantity, ..)| *quantity == track.quantity);
        items
            .filter_map(|(_, items, _)| items.get(event.item() as usize))
            .find(|item| item.place == track.place && item.si.to_bits() == event.value.to_bits())
    }

    /// When a line took place, in the order of the book; `after s6` counts from the end of s6, wherever the line stands.
    #[must_use]
    pub fn rank(&self, book: &Book, index: u32) -> u32 {
        let extra = book.entries.get(index as usize).and_then(|entry| book.extra(entry));
        let named =
            self.sessions.named.get(&index).filter(|_| extra.is_some_and(|extra| extra.after.is_some()));
        named.map_or_else(
            || self.order.rank.get(index as usize).copied().unwrap_or(0),
            |id| self.sessions.get(*id).after,
        )
    }

    /// The session's `run` entry that a line's `during` names, or that it stands under.
    #[must_use]
    pub fn during(&self, book: &Book, index: u32) -> Option<u32> {
        let entry = book.entries.get(index as usize)?;
        if let Some(above) = book.entries.get(entry.parent as usize)
            && above.verb == Verb::Run
        {
            return Some(entry.parent);
        }
        self.sessions.named.get(&index).map(|id| self.sessions.get(*id).entry)
    }
}
