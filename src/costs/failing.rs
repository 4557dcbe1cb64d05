//! What each failure and impact cost: the part that took its place, the jobs it made, and the entry money of sessions lost.
//!
//! All but the last are postings, so these sums are in the totals already. Must not know how they are shown.

use super::Costs;
use super::lost;
use super::posting::{Kind, Posting};
use super::ran::Ran;
use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::{CarId, KindId, PartId};
pub use crate::costs::failure::{FailureCost, Lost};
use crate::history::History;
use crate::history::order::Rank;
use crate::history::parts::{Stay, Where};
use crate::money::Total;
use crate::sorted;
use std::collections::{BTreeMap, BTreeSet};

/// Every failure and impact, in order, with what it cost.
pub fn failures(
    book: &Book,
    history: &History,
    ran: &Ran<'_>,
    stated: &[EntryId],
    costs: &Costs,
) -> Vec<FailureCost> {
    let mut all = found(book, history, stated);
    if all.is_empty() {
        return all;
    }
    let index = Index::of(book, history, costs);
    let mut counted: BTreeSet<usize> = BTreeSet::new();
    let under = under(book, costs);
    for one in &mut all {
        if let Some(part) = one.part {
            one.parts = index.replaced(one, part);
        }
        if let Some(of_job) = one.job.and_then(|job| costs.of_job.get(job.index())) {
            one.work.clone_from(of_job);
        }
        // Hours and costs that stand under its line are its own.
        one.work.extend(under.get(&one.entry).into_iter().flatten());
        one.work.sort_unstable();
        one.work.dedup();
        one.parts.retain(|at| counted.insert(*at));
        one.work.retain(|at| counted.insert(*at));
    }
    lost::sessions(book, ran, costs, &mut all);
    for one in &mut all {
        one.add_up(&costs.postings);
    }
    all
}

/// The postings of hours and costs that stand under another line, by that line.
fn under(book: &Book, costs: &Costs) -> BTreeMap<EntryId, Vec<usize>> {
    let mut all: BTreeMap<EntryId, Vec<usize>> = BTreeMap::new();
    for (at, posting) in costs.postings.iter().enumerate() {
        let line = book.entries.get(posting.entry);
        let line = line.filter(|line| matches!(line.verb, Verb::Hours | Verb::Cost | Verb::Credit));
        if let Some(above) = line.and_then(|line| line.parent) {
            all.entry(above).or_default().push(at);
        }
    }
    all
}

fn found(book: &Book, history: &History, stated: &[EntryId]) -> Vec<FailureCost> {
    let mut all = Vec::new();
    let mut add = |index: EntryId, car: Option<CarId>, part: Option<PartId>| {
        let Some(entry) = book.entries.get(index) else { return };
        let (Some(head), Some(car)) = (book.head(entry), car) else { return };
        all.push(FailureCost {
            entry: index,
            date: history.order.date(book, index).unwrap_or(head.date),
            car,
            event: head.event,
            part,
            job: book.extra(entry).and_then(|extra| extra.job),
            parts: Vec::new(),
            work: Vec::new(),
            fees: Vec::new(),
            lost: None,
            unclear: entry.broken,
            total: Total::default(),
            rank: history.order.rank.get(index).copied().unwrap_or(Rank::START),
        });
    };
    for (index, lines) in history.parts.all.iter_enumerated() {
        for line in &lines.failures {
            let rank = history.order.rank.get(*line).copied().unwrap_or(Rank::START);
            let head = book.entries.get(*line).and_then(|entry| book.head(entry));
            let stay = stay_before(history, index, rank);
            let car = head.and_then(|head| head.car).or(stay.and_then(|stay| stay.car));
            add(*line, car, Some(index));
        }
    }
    for index in stated.iter().copied() {
        // That it was hit is believed, whatever else of its line cannot be read.
        let hit = book.entries.get(index).filter(|entry| entry.verb == Verb::Hit);
        if let Some(entry) = hit {
            add(index, book.head(entry).and_then(|head| head.car), None);
        }
    }
    all.sort_by_key(|one| one.rank);
    all
}

/// The last time on a car that began before a rank.
fn stay_before(history: &History, part: PartId, rank: Rank) -> Option<&Stay> {
    let stays = &history.parts.get(part).stays;
    let before = stays.partition_point(|stay| stay.from < rank);
    stays.get(..before)?.iter().rev().find(|stay| stay.car.is_some())
}

/// Where to find postings and parts without looking through all of them.
struct Index<'a> {
    book: &'a Book,
    history: &'a History,
    costs: &'a Costs,
    /// Postings about parts: part, line, posting; in order.
    of_part: Vec<(PartId, EntryId, usize)>,
    /// Who was built into an assembly: the assembly, the kind, first rank, line, part; in order.
    inside: Vec<(PartId, KindId, Rank, EntryId, PartId)>,
}

impl<'a> Index<'a> {
    fn of(book: &'a Book, history: &'a History, costs: &'a Costs) -> Self {
        let postings = costs.postings.iter().enumerate();
        let mut of_part: Vec<(PartId, EntryId, usize)> =
            postings.filter_map(|(at, posting)| Some((posting.part?, posting.entry, at))).collect();
        of_part.sort_unstable();
        let mut inside: Vec<(PartId, KindId, Rank, EntryId, PartId)> = Vec::new();
        for (part, lines) in book.parts.iter().zip(&history.parts.all).enumerate() {
            for stay in &lines.1.stays {
                if let (Where::Inside(assembly), Some(kind)) = (stay.at, lines.0.kind) {
                    inside.push((assembly, kind, stay.from, stay.entry, PartId::from(part)));
                }
            }
        }
        inside.sort_unstable();
        Self { book, history, costs, of_part, inside }
    }

    /// The postings about a part on a line.
    fn postings(&self, part: PartId, line: EntryId) -> impl Iterator<Item = usize> + '_ {
        let from = sorted::from(&self.of_part, |(one, at, _)| (*one, *at) < (part, line));
        let own = from.iter().take_while(move |(one, at, _)| (*one, *at) == (part, line));
        own.map(|(.., posting)| *posting)
    }

    /// What was booked for the part of its kind that next took the failed one's place.
    fn replaced(&self, failure: &FailureCost, part: PartId) -> Vec<usize> {
        let next = || {
            let before = stay_before(self.history, part, failure.rank)?;
            let kind = self.book.parts.get(part)?.kind?;
            match before.at {
                Where::Car(car, place) => {
                    let list = self.history.parts.occupants.get(&(car, kind, place))?;
                    let next = list.partition_point(|(from, ..)| *from <= before.from);
                    let (from, _, other) = *list.get(next)?;
                    let stays = &self.history.parts.get(other).stays;
                    let first = stays.partition_point(|stay| stay.from < from);
                    let mut same = stays.get(first..)?.iter().take_while(|stay| stay.from == from);
                    let stay = same.find(|stay| stay.at == before.at)?;
                    Some((other, stay.entry))
                }
                Where::Inside(assembly) => {
                    let of = (assembly, kind, failure.rank);
                    let next =
                        self.inside.partition_point(|(into, kind, from, ..)| (*into, *kind, *from) <= of);
                    let next =
                        self.inside.get(next).filter(|(into, other, ..)| (*into, *other) == (assembly, kind));
                    next.map(|(.., entry, other)| (*other, *entry))
                }
                _ => None,
            }
        };
        // The part itself, mended and put back, costs what its job says.
        let Some((other, entry)) = next().filter(|(other, _)| *other != part) else { return Vec::new() };
        // A part built into an assembly off the car is booked by the line that fits the assembly.
        let first = self.history.parts.get(other).stays.iter().find(|stay| stay.car.is_some());
        let lines = [Some(entry), first.map(|stay| stay.entry).filter(|line| *line != entry)];
        let booked = lines.into_iter().flatten().flat_map(|line| self.postings(other, line));
        booked.filter(|at| self.is_instead(*at, failure)).collect()
    }

    fn is_instead(&self, at: usize, failure: &FailureCost) -> bool {
        let booked = |posting: &Posting| {
            posting.car == Some(failure.car)
                && posting.kind != Kind::Sold
                && self.history.order.rank.get(posting.entry).is_some_and(|rank| *rank >= failure.rank)
        };
        self.costs.postings.get(at).is_some_and(booked)
    }
}
