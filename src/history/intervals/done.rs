//! The lines that did the work of an interval: which part or car they were about, and where on it.
//!
//! Must not know how much was run between them.

use super::Start;
use super::places::{places, wanted};
use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::{CarId, PartId, Work};
use crate::book::place::Place;
use crate::history::History;
use crate::history::order::Rank;
use crate::history::parts::{Stay, Where};
use crate::vocabulary::QuantityId;
use rustc_hash::FxHashMap;
use std::collections::{BTreeMap, BTreeSet};

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
                    let here = all.get(first..last.max(first)).unwrap_or_default();
                    // On what sits across two corners it is done at both.
                    let told = here.iter().filter_map(|line| {
                        let Some(place) = place_of(history, stay, line.rank) else {
                            return Some((*line, Vec::new()));
                        };
                        let told = places(book, line.entry);
                        (told.is_empty() || told.iter().any(|one| one.touches(place)))
                            .then_some((*line, told))
                    });
                    let at = here.first().and_then(|line| place_of(history, stay, line.rank));
                    let wanted: BTreeSet<Place> =
                        at.iter().flat_map(|place| place.corners()).copied().collect();
                    starts.extend(completed(book, told.collect(), &wanted));
                }
            }
        }
        starts
    }

    /// When the work was done on a car: in every place since it was done in all of them last, counted from where that is longest ago.
    pub(super) fn on_car(&self, book: &Book, car: CarId, verb: Verb, quantity: QuantityId) -> Vec<Start> {
        let lines = self.cars.get(&(car, verb, quantity)).map_or(&[][..], Vec::as_slice);
        let told: Vec<(Line, Vec<Place>)> =
            lines.iter().map(|line| (*line, places(book, line.entry))).collect();
        let named: Vec<Place> = told.iter().flat_map(|(_, places)| places).copied().collect();
        let wanted = wanted(book, car, quantity, &named);
        completed(book, told, &wanted)
    }
}

/// When work was done in every place that is wanted since it was done in all of them last, counted from where that is longest ago; each line with the
/// places that it is about, none for all of them.
fn completed(book: &Book, lines: Vec<(Line, Vec<Place>)>, wanted: &BTreeSet<Place>) -> Vec<Start> {
    let (mut last, mut starts): (BTreeMap<Place, Line>, Vec<Start>) = (BTreeMap::new(), Vec::new());
    for (line, places) in lines {
        let start = line.start(book);
        if !start.sure {
            let all = places.is_empty() || wanted.iter().all(|place| places.contains(place));
            starts.extend(all.then_some(start));
            continue;
        }
        if wanted.is_empty() {
            starts.push(start);
            continue;
        }
        let here = if places.is_empty() { wanted.iter().copied().collect() } else { places };
        let here = here.into_iter().filter(|place| wanted.contains(place));
        last.extend(here.map(|place| (place, line)));
        if last.len() == wanted.len()
            && let Some(oldest) = last.values().min_by_key(|line| (line.rank, line.entry))
        {
            starts.push(oldest.start(book));
        }
    }
    starts.sort_by_key(|start| (start.rank, start.entry));
    starts.dedup();
    starts
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
