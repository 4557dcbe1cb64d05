//! The lines that did the work of an interval: which part or car they were about, and where on it.
//!
//! Must not know how much was run between them.

use super::Start;
use crate::book::Book;
use crate::book::entry::{Entry, EntryId, Verb};
use crate::book::model::{CarId, PartId, Work};
use crate::book::place::Place;
use crate::history::History;
use crate::history::order::Rank;
use crate::history::parts::{Stay, Where};
use crate::vocabulary::QuantityId;
use rustc_hash::FxHashMap;

/// A line that may have been the work.
#[derive(Debug, Clone, Copy)]
struct Line {
    rank: Rank,
    entry: EntryId,
}

impl Line {
    fn start(self, book: &Book) -> Start {
        let sure = book.entries.get(self.entry).is_some_and(|entry| !entry.broken);
        Start { rank: self.rank, entry: Some(self.entry), sure }
    }
}

/// The lines of the book that do work of one kind or another, in order.
#[derive(Debug, Default)]
pub(super) struct Done {
    parts: FxHashMap<(PartId, Verb), Vec<Line>>,
    cars: FxHashMap<(CarId, Verb, QuantityId), Vec<Line>>,
}

/// The work that lines of a verb do: `read` is any reading, and a rebuild is found in its part's own history.
const fn works(verb: Verb) -> &'static [Verb] {
    match verb {
        Verb::Inspect => &[Verb::Inspect],
        Verb::Bench => &[Verb::Bench],
        Verb::Torque => &[Verb::Torque, Verb::Read],
        Verb::Recheck => &[Verb::Recheck],
        Verb::Fill => &[Verb::Fill],
        Verb::Found | Verb::Left | Verb::Read => &[Verb::Read],
        Verb::Set
        | Verb::Adjust
        | Verb::Compare
        | Verb::Fit
        | Verb::Remove
        | Verb::Swap
        | Verb::Move
        | Verb::Build
        | Verb::Strip
        | Verb::Rebuild
        | Verb::Shelve
        | Verb::Quarantine
        | Verb::Release
        | Verb::Scrap
        | Verb::Buy
        | Verb::Sell
        | Verb::Failed
        | Verb::Hit
        | Verb::Service
        | Verb::Run
        | Verb::Stint
        | Verb::Stage
        | Verb::Stop
        | Verb::Laps
        | Verb::Result
        | Verb::Correct
        | Verb::Say
        | Verb::Think
        | Verb::Try
        | Verb::Waive
        | Verb::Void
        | Verb::Job
        | Verb::Done
        | Verb::Defer
        | Verb::Promise
        | Verb::Hours
        | Verb::Cost
        | Verb::Credit
        | Verb::Quote
        | Verb::Paid
        | Verb::Handed
        | Verb::Lend
        | Verb::Borrow
        | Verb::Return
        | Verb::Count
        | Verb::Use
        | Verb::Points
        | Verb::Sweep
        | Verb::Lift
        | Verb::Note => &[],
    }
}

impl Done {
    /// What a line adds to is not changed by it: a top-up is no oil change.
    pub(super) fn of(book: &Book, history: &History) -> Self {
        let mut done = Self::default();
        for (index, entry) in book.entries.iter_enumerated() {
            if entry.void || history.added.contains(&index) {
                continue;
            }
            let line = || Line { rank: history.rank(book, index), entry: index };
            for work in works(entry.verb) {
                if matches!(work, Verb::Inspect | Verb::Bench) {
                    let facts = book.extra(entry).and_then(|extra| extra.parts.as_deref());
                    let more = facts.map_or(&[][..], |facts| facts.more.as_slice());
                    for part in entry.part().iter().chain(more) {
                        done.parts.entry((*part, *work)).or_default().push(line());
                    }
                } else if let Some(quantity) = entry.quantity
                    && let Some(car) = book.head(entry).and_then(|head| head.car)
                {
                    done.cars.entry((car, *work, quantity)).or_default().push(line());
                }
            }
        }
        done.parts.values_mut().chain(done.cars.values_mut()).for_each(|lines| {
            lines.sort_unstable_by_key(|line| (line.rank, line.entry));
        });
        done
    }

    /// When the work was done on a part; a rebuild begins every interval of it anew.
    pub(super) fn on_part(&self, book: &Book, history: &History, part: PartId, work: Work) -> Vec<Start> {
        let lines = history.parts.get(part);
        let mut starts: Vec<Start> = lines
            .rebuilds
            .iter()
            .map(|rebuild| Start { rank: rebuild.rank, entry: Some(rebuild.entry), sure: true })
            .collect();
        match work {
            Work::Part(verb) => {
                let lines = self.parts.get(&(part, verb)).map_or(&[][..], Vec::as_slice);
                starts.extend(lines.iter().map(|line| line.start(book)));
            }
            Work::Quantity(verb, quantity) => {
                for stay in &lines.stays {
                    let key = stay.car.map(|car| (car, verb, quantity));
                    let all = key.and_then(|key| self.cars.get(&key)).map_or(&[][..], Vec::as_slice);
                    let first = all.partition_point(|line| line.rank <= stay.from);
                    let last = all.partition_point(|line| line.rank <= stay.until);
                    let here = all.get(first..last.max(first)).unwrap_or_default().iter().filter(|line| {
                        place_of(history, stay, line.rank)
                            .is_none_or(|place| reaches(book, line.entry, place))
                    });
                    starts.extend(here.map(|line| line.start(book)));
                }
            }
        }
        starts
    }

    /// When the work was done on a car: by lines about as many places as any of them is about.
    pub(super) fn on_car(&self, book: &Book, car: CarId, verb: Verb, quantity: QuantityId) -> Vec<Start> {
        let lines = self.cars.get(&(car, verb, quantity)).map_or(&[][..], Vec::as_slice);
        let counted: Vec<(Line, usize)> =
            lines.iter().map(|line| (*line, places(book, line.entry).len())).collect();
        let most = counted.iter().map(|(_, places)| *places).max().unwrap_or(0);
        let whole = counted.iter().filter(|(_, places)| *places == 0 || *places == most);
        whole.map(|(line, _)| line.start(book)).collect()
    }
}

/// Assemblies nest no deeper than this where a place on the car is asked for; deeper it is not known.
const DEEPEST: usize = 64;

/// The place on the car of a part that stays there, or of what it is inside of.
fn place_of(history: &History, stay: &Stay, rank: Rank) -> Option<Place> {
    let mut at = stay.at;
    for _ in 0..DEEPEST {
        match at {
            Where::Car(_, place) => return Some(place),
            Where::Inside(assembly) => at = history.parts.get(assembly).at(rank)?.at,
            _ => return None,
        }
    }
    None
}

/// The places a line is about, each once; none where it is about all there are.
fn places(book: &Book, entry: EntryId) -> Vec<Place> {
    let Some(entry) = book.entries.get(entry) else { return Vec::new() };
    let mut places: Vec<Place> = book.items_of(entry).iter().map(|item| item.place).collect();
    let named = |entry: &Entry| {
        book.extra(entry).and_then(|extra| extra.parts.as_ref()).and_then(|facts| facts.place)
    };
    if places.is_empty() {
        places.extend(named(entry).iter().flat_map(|place| place.corners()));
    }
    places.sort_unstable();
    places.dedup();
    places.retain(|place| *place != Place::CAR);
    places
}

/// Whether a line is about a place.
fn reaches(book: &Book, entry: EntryId, place: Place) -> bool {
    let places = places(book, entry);
    places.is_empty() || places.iter().any(|one| one.touches(place))
}
