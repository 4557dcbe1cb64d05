//! How many of a kind are on hand: what was counted last, what was bought and used since.
//!
//! A kind whose parts have names of their own is counted by where those are; only a count of it is a line here. Must not know what
//! they cost, nor how many are to be kept.

use super::order::{Order, Rank};
use super::parts::{Parts, Where};
use super::problem::Problem;
use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::KindId;
use std::collections::BTreeMap;

/// One line about a number of a kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// When.
    pub rank: Rank,
    /// The line.
    pub entry: EntryId,
    /// What it does.
    pub what: Change,
}

/// What a line does to the number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Change {
    /// So many were counted.
    Counted(u32),
    /// So many came.
    Bought(u32),
    /// So many were used.
    Used(u32),
    /// A line with a mistake: from here on nobody can say.
    Lost,
}

/// How many are on hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OnHand {
    /// So many; below zero where more were used than there were.
    Count(i64),
    /// Nobody counted, or a line has a mistake.
    Unknown,
}

/// The lines about numbers, kind by kind.
#[derive(Debug, Clone, Default)]
pub struct Stock {
    /// In order.
    pub steps: BTreeMap<KindId, Vec<Step>>,
}

impl Stock {
    /// How many of a kind are on hand at the moment before a rank.
    #[must_use]
    pub fn on_hand(&self, book: &Book, parts: &Parts, kind: KindId, rank: Rank) -> OnHand {
        if has_names(book, kind) {
            return OnHand::Count(on_shelf(book, parts, kind, rank));
        }
        let steps = self.steps.get(&kind).map_or(&[][..], Vec::as_slice);
        let mut left = None;
        for step in steps.iter().take_while(|step| step.rank < rank) {
            left = match step.what {
                Change::Counted(count) => Some(i64::from(count)),
                Change::Bought(count) => left.map(|left: i64| left.saturating_add(i64::from(count))),
                Change::Used(count) => left.map(|left| left.saturating_sub(i64::from(count))),
                Change::Lost => None,
            };
        }
        left.map_or(OnHand::Unknown, OnHand::Count)
    }

    /// The last count of a kind before a rank.
    #[must_use]
    pub fn counted(&self, kind: KindId, rank: Rank) -> Option<&Step> {
        let steps = self.steps.get(&kind)?.iter().rev();
        steps.filter(|step| step.rank < rank).find(|step| matches!(step.what, Change::Counted(_)))
    }
}

/// Whether a part of a kind has a name of its own.
#[must_use]
pub fn has_names(book: &Book, kind: KindId) -> bool {
    book.parts.iter().any(|part| part.kind == Some(kind))
}

fn on_shelf(book: &Book, parts: &Parts, kind: KindId, rank: Rank) -> i64 {
    let own = book.parts.iter_enumerated().filter(|(_, part)| part.kind == Some(kind));
    let here = own.filter(|(part, _)| {
        let told = parts.get(*part);
        let came = told.lines.first().is_none_or(|line| {
            let comes =
                book.entries.get(*line).is_some_and(|line| matches!(line.verb, Verb::Buy | Verb::Borrow));
            !comes || told.stays.first().is_some_and(|stay| stay.from < rank)
        });
        came && told.at(rank).is_none_or(|stay| matches!(stay.at, Where::New | Where::Shelf))
    });
    i64::try_from(here.count()).unwrap_or(i64::MAX)
}

/// Folds the lines about numbers.
pub fn stock(book: &Book, order: &Order, parts: &Parts, problems: &mut Vec<Problem>) -> Stock {
    let mut stock = Stock::default();
    for (index, entry) in book.entries.iter_enumerated() {
        if !matches!(entry.verb, Verb::Count | Verb::Use | Verb::Buy) {
            continue;
        }
        let facts = book.extra(entry).and_then(|extra| extra.parts.as_deref());
        let Some((kind, count)) = facts.and_then(|facts| Some((facts.kind?, facts.count))) else { continue };
        let rank = order.rank.get(index).copied().unwrap_or(Rank::START);
        let what = match (entry.verb, count) {
            _ if entry.broken => Change::Lost,
            (Verb::Count, Some(count)) => Change::Counted(count),
            (Verb::Use, Some(count)) => Change::Used(count),
            (Verb::Buy, Some(count)) => Change::Bought(count),
            _ => continue,
        };
        stock.steps.entry(kind).or_default().push(Step { rank, entry: index, what });
    }
    for (kind, steps) in &mut stock.steps {
        steps.sort_by_key(|step| (step.rank, step.entry));
        problems.extend(named(book, *kind, steps));
    }
    for (kind, steps) in &stock.steps {
        problems.extend(differ(book, parts, &stock, *kind, steps));
    }
    stock
}

/// Lines that buy or use a number of a kind whose parts have names.
fn named(book: &Book, kind: KindId, steps: &[Step]) -> Option<Problem> {
    let moves = |step: &&Step| matches!(step.what, Change::Bought(_) | Change::Used(_));
    let first = steps.iter().find(moves).filter(|_| has_names(book, kind))?;
    Some(Problem::CountedByName { entry: first.entry, kind })
}

/// Counts that are not what the book says, and uses of more than there were.
fn differ(book: &Book, parts: &Parts, stock: &Stock, kind: KindId, steps: &[Step]) -> Vec<Problem> {
    let mut found = Vec::new();
    let mut short = false;
    for step in steps {
        let OnHand::Count(before) = stock.on_hand(book, parts, kind, step.rank) else { continue };
        match step.what {
            Change::Counted(count) => {
                short = false;
                if before != i64::from(count) {
                    let since = stock.counted(kind, step.rank).map(|step| step.entry);
                    found.push(Problem::CountDiffers {
                        entry: step.entry,
                        kind,
                        counted: count,
                        before,
                        since,
                    });
                }
            }
            Change::Used(count) if !short && !has_names(book, kind) && before < i64::from(count) => {
                short = true;
                let since = stock.counted(kind, step.rank).map(|step| step.entry);
                found.push(Problem::UsedMoreThanThere { entry: step.entry, kind, before, since });
            }
            Change::Used(_) | Change::Bought(_) | Change::Lost => {}
        }
    }
    found
}
