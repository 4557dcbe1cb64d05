//! The fold of a book's entries: when each happened, where every part is, what every slot holds, at any moment.
//!
//! Must not know reports or messages. A [`Problem`] is a fact; `check` puts it into words.

pub mod alike;
pub mod benched;
pub mod best;
pub mod claim;
pub mod clicks;
pub mod clock;
mod correct;
mod cuts;
pub mod dated;
mod day;
pub mod diff;
pub mod disturb;
pub mod facts;
pub mod fuel;
pub mod gauges;
pub mod grain;
pub mod impact;
pub mod intervals;
pub mod jobs;
mod legs;
pub mod likeness;
pub mod moment;
pub mod odometer;
pub mod order;
pub mod partly;
pub mod parts;
pub mod problem;
pub mod rank;
pub mod session;
pub mod sessions;
pub mod slots;
pub mod state;
pub mod stock;
pub mod stretches;
pub mod sums;
pub mod tally;
pub mod time;
pub mod unread;
pub mod untold;
pub mod usage;
pub mod weighing;
mod within;

use crate::book::Book;
use crate::book::entry::{EntryId, Item, Verb};
use crate::book::model::CarId;
use crate::history::order::Rank;
use crate::source::{FileId, Files};
use disturb::Disturbances;
pub use facts::{Facts, Standing};
use gauges::Gauges;
use jobs::Jobs;
pub use moment::{Moment, MomentTrouble};
use odometer::Odometer;
use order::Order;
use parts::Parts;
use problem::{Problem, Sold};
use rustc_hash::{FxHashMap, FxHashSet};
use sessions::Sessions;
use slots::{SlotEvent, Slots, Track};
use std::sync::OnceLock;
use stock::Stock;

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
    /// How many of a kind there are.
    pub stock: Stock,
    /// By how much gauges read high.
    pub gauges: Gauges,
    /// What makes readings stale.
    pub disturbances: Disturbances,
    /// Of a book cut for a reader: the lines that set something he may not read, and of which nothing else is left. What else
    /// changed between two runs he cannot know.
    pub kept_back: FxHashSet<EntryId>,
    /// Lines that fill with a plus, and change nothing that was there.
    pub added: FxHashSet<EntryId>,
    /// What is wrong.
    pub problems: Vec<Problem>,
    odometers: OnceLock<Vec<Odometer>>,
}

/// Folds a book. A line whose time is none is marked in it as broken, as one that cannot be read is: only here its zone and the
/// lines above it have told.
#[must_use]
pub fn fold(book: &mut Book, files: &Files) -> History {
    let mut problems = Vec::new();
    let order = order::order(book, &mut problems);
    for lost in &order.lost {
        if let Some(entry) = book.entries.get_mut(*lost) {
            entry.broken = true;
        }
    }
    correct::apply(book, files, &order, &mut problems);
    let book = &*book;
    // Which lines are about settings can be sorted out while sessions and parts are folded.
    let (lines, (sessions, parts)) = rayon::join(
        || slots::lines(book, &order),
        || {
            let mut sessions = sessions::sessions(book, files, &order, &mut problems);
            let parts = parts::parts(book, &order, &sessions, &mut problems);
            cuts::cut(book, &order, &parts, &mut sessions, &mut problems);
            (sessions, parts)
        },
    );
    let slots = slots::slots(book, files, (&order, &sessions), &parts, lines, &mut problems);
    let disturbances = disturb::disturbances(book, files, &order, &parts, &slots);
    sold(book, &order, &parts, &mut problems);
    let jobs = jobs::jobs(book, &order, &parts, &mut problems);
    let stock = stock::stock(book, &order, &parts, &mut problems);
    let gauges = gauges::gauges(book, files, &order);
    History {
        order,
        sessions,
        parts,
        slots,
        jobs,
        stock,
        gauges,
        disturbances,
        kept_back: FxHashSet::default(),
        added: added(book, files),
        problems,
        odometers: OnceLock::new(),
    }
}

/// The lines that fill with a plus.
fn added(book: &Book, files: &Files) -> FxHashSet<EntryId> {
    let lines = book.entries.iter_enumerated();
    lines.filter(|(_, line)| fuel::tops_up(book, files, line)).map(|(at, _)| at).collect()
}

/// Lines of a car's blocks with their ranks, in order; without notes.
fn told(book: &Book, order: &Order, car: CarId) -> Vec<(Rank, EntryId)> {
    let is_note = |entry: EntryId| book.entries.get(entry).is_none_or(|line| line.verb == Verb::Note);
    let mut lines = order.lines_of(book, car);
    lines.retain(|(_, entry)| !is_note(*entry));
    lines
}

/// Lines about a car after its sale that are not for its buyer: one problem for each sale. And blocks for a client whose the
/// car is not.
fn sold(book: &Book, order: &Order, parts: &Parts, problems: &mut Vec<Problem>) {
    let mut cars: FxHashMap<CarId, (usize, Vec<(Rank, EntryId)>)> = FxHashMap::default();
    for sale in &parts.sales {
        let (before, lines) = cars.entry(sale.car).or_insert_with(|| (0, told(book, order, sale.car)));
        *before += 1;
        let until = parts.sales_of(sale.car).nth(*before).map(|next| next.rank);
        let from = lines.partition_point(|(rank, _)| *rank <= sale.rank);
        let end = until.map_or(lines.len(), |until| lines.partition_point(|(rank, _)| *rank <= until));
        let of_buyer = |entry: EntryId| {
            let head = book.entries.get(entry).and_then(|entry| book.head(entry));
            head.is_some_and(|head| head.owner.is_some() && head.owner == sale.to)
        };
        let own = lines.get(from..end.max(from)).unwrap_or_default();
        let mut after = own.iter().filter(|(_, entry)| !of_buyer(*entry));
        if let Some((_, first)) = after.next() {
            let more = after.count() as u32;
            problems.push(Problem::SoldCarTouched { entry: *first, car: sale.car, sale: sale.entry, more });
        }
    }
    for (index, head) in book.heads.iter_enumerated() {
        let (Some(car), Some(client)) = (head.car, head.owner) else { continue };
        let Some(rank) = order.rank.get(head.first).filter(|_| head.end > head.first) else {
            continue;
        };
        let sold = parts.sales_of(car).any(|sale| sale.rank < *rank);
        // After a sale the lines themselves are spoken of.
        if !sold && parts.owner(book, car, *rank) != Some(client) {
            problems.push(Problem::NotTheOwner { head: index, car, client });
        }
    }
    let mut all: Vec<(CarId, (Rank, EntryId))> =
        parts.bought.iter().map(|(car, bought)| (*car, *bought)).collect();
    all.sort_unstable();
    for (car, (rank, bought)) in all {
        // With lines about it before its sale it may have come back.
        let before = parts.sales_of(car).find(|sale| sale.rank < rank);
        let before = before.filter(|sale| {
            !book
                .heads_of(car)
                .flat_map(super::book::entry::Head::lines)
                .any(|entry| order.rank.get(entry).is_some_and(|rank| *rank < sale.rank))
        });
        if let Some(sale) = before {
            problems.push(Problem::SoldBeforeBought { entry: sale.entry, what: Sold::Car(car), bought });
        }
    }
}

impl History {
    /// A car's running sums; of all cars they are made when the first is asked for.
    #[must_use]
    pub fn odometer(&self, car: CarId) -> Option<&Odometer> {
        self.odometers.get_or_init(|| Odometer::all(&self.sessions)).get(car.index())
    }

    /// What was typed for a slot's value; `None` where the line only made it unknown.
    #[must_use]
    pub fn item<'a>(&self, book: &'a Book, track: &Track, event: &SlotEvent) -> Option<&'a Item> {
        track.item(book, event)
    }

    /// The file that an event's value is typed in: its line's, or that of the declaration it opens with.
    #[must_use]
    pub fn file_of(&self, book: &Book, track: &Track, event: &SlotEvent) -> Option<FileId> {
        track.file(book, event)
    }

    /// When a line took place, in the order of the book; `after s6` counts from the end of s6, wherever the line stands.
    #[must_use]
    pub fn rank(&self, book: &Book, index: EntryId) -> Rank {
        let extra = book.entries.get(index).and_then(|entry| book.extra(entry));
        let named =
            self.sessions.named.get(&index).filter(|_| extra.is_some_and(|extra| extra.after.is_some()));
        named.map_or_else(
            || self.order.rank.get(index).copied().unwrap_or(Rank::START),
            |id| self.sessions.get(*id).after,
        )
    }

    /// The session's `run` entry that a line's `during` names, or that it stands under.
    #[must_use]
    pub fn during(&self, book: &Book, index: EntryId) -> Option<EntryId> {
        self.sessions.during(book, index)
    }
}
