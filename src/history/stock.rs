//! How many of a kind are on hand: what was counted last, what was bought and used since.
//!
//! A kind whose parts have names of their own is counted by where those are; only a count of it is a line here. Must not know what
//! they cost, nor how many are to be kept.

use super::order::{Order, Rank};
use super::parts::{Parts, Where};
use super::problem::Problem;
use crate::book::Book;
use crate::book::entry::{EntryId, HeadId, Verb};
use crate::book::model::KindId;
use crate::source::FileId;
use rustc_hash::FxHashSet;
use std::collections::{BTreeMap, BTreeSet, VecDeque};

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

impl Change {
    /// What is left after it.
    fn after(self, left: Option<i64>) -> Option<i64> {
        match self {
            Self::Counted(count) => Some(i64::from(count)),
            Self::Bought(count) => left.map(|left| left.saturating_add(i64::from(count))),
            Self::Used(count) => left.map(|left| left.saturating_sub(i64::from(count))),
            Self::Lost => None,
        }
    }
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
        let then = steps.iter().take_while(|step| step.rank < rank);
        then.fold(None, |left, step| step.what.after(left)).map_or(OnHand::Unknown, OnHand::Count)
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
    let here = own.filter(|(part, declared)| {
        let told = parts.get(*part);
        // A client's own was here before it was bought of him.
        let came = declared.owner.is_some()
            || told.lines.first().is_none_or(|line| {
                let comes =
                    book.entries.get(*line).is_some_and(|line| matches!(line.verb, Verb::Buy | Verb::Borrow));
                !comes || told.stays.first().is_some_and(|stay| stay.from < rank)
            });
        came && told.is_shops(rank)
            && told.at(rank).is_none_or(|stay| matches!(stay.at, Where::New | Where::Shelf))
    });
    i64::try_from(here.count()).unwrap_or(i64::MAX)
}

/// Folds the lines about numbers.
pub fn stock(book: &Book, order: &Order, parts: &Parts, problems: &mut Vec<Problem>) -> Stock {
    let mut stock = Stock::default();
    // Lines of which nobody can say what kind they are about.
    let mut of_any: Vec<(Rank, EntryId)> = Vec::new();
    for (index, entry) in book.entries.iter_enumerated() {
        if !matches!(entry.verb, Verb::Count | Verb::Use | Verb::Buy) {
            continue;
        }
        let facts = book.extra(entry).and_then(|extra| extra.parts.as_deref());
        let rank = order.rank.get(index).copied().unwrap_or(Rank::START);
        let Some((kind, count)) = facts.and_then(|facts| Some((facts.kind?, facts.count))) else {
            if entry.broken && entry.part().is_none() {
                of_any.push((rank, index));
            }
            continue;
        };
        let what = if entry.broken {
            Change::Lost
        } else if let Some(count) = count {
            if entry.verb == Verb::Count {
                Change::Counted(count)
            } else if entry.verb == Verb::Use {
                Change::Used(count)
            } else {
                Change::Bought(count)
            }
        } else {
            continue;
        };
        stock.steps.entry(kind).or_default().push(Step { rank, entry: index, what });
    }
    if stock.steps.is_empty() {
        return stock;
    }
    // Pairs of blocks whose order is unclear and was said.
    let mut said: BTreeSet<(HeadId, HeadId)> = BTreeSet::new();
    let names: FxHashSet<KindId> = book.parts.iter().filter_map(|part| part.kind).collect();
    for (kind, steps) in &mut stock.steps {
        let lost = of_any.iter().map(|(rank, entry)| Step { rank: *rank, entry: *entry, what: Change::Lost });
        steps.extend(lost);
        steps.sort_by_key(|step| (step.rank, step.entry));
        dispute(book, order, steps, &mut said, problems);
        let moves = |step: &&Step| matches!(step.what, Change::Bought(_) | Change::Used(_));
        if names.contains(kind) {
            let first = steps.iter().find(moves);
            problems.extend(first.map(|step| Problem::CountedByName { entry: step.entry, kind: *kind }));
            let counts = steps.iter().filter_map(|step| match step.what {
                Change::Counted(count) => Some((step, count)),
                Change::Bought(_) | Change::Used(_) | Change::Lost => None,
            });
            problems.extend(counts.filter_map(|(step, counted)| {
                let before = on_shelf(book, parts, *kind, step.rank);
                let (entry, kind, since) = (step.entry, *kind, None);
                (before != i64::from(counted)).then_some(Problem::CountDiffers {
                    entry,
                    kind,
                    counted,
                    before,
                    since,
                })
            }));
        } else {
            problems.extend(differ(*kind, steps));
        }
    }
    stock
}

/// Two files of one day, one of which counts, and no times that decide whether the other's lines are in that count: from there on nobody
/// can say.
fn dispute(
    book: &Book,
    order: &Order,
    steps: &mut [Step],
    said: &mut BTreeSet<(HeadId, HeadId)>,
    problems: &mut Vec<Problem>,
) {
    let counts = |step: &Step| matches!(step.what, Change::Counted(_));
    // Of the lines of a day, those that a later one may have to be held against; of those further back only their files.
    let mut before: VecDeque<Step> = VecDeque::new();
    let mut further = Further::default();
    for own in steps {
        let step = *own;
        if before.back().is_some_and(|last| order.date(book, last.entry) != order.date(book, step.entry)) {
            before.clear();
            further = Further::default();
        }
        let file = book.entries[step.entry].file;
        let unclear = before.iter().rev().find(|other| {
            // Whether a line with a mistake counted, nobody knows.
            let counted = counts(&step) || counts(other);
            counted && order.unclear(book, other.entry, step.entry)
        });
        if let Some(other) = unclear {
            let (one, two) = (book.entries[other.entry].head, book.entries[step.entry].head);
            let lost = step.what == Change::Lost || other.what == Change::Lost;
            if !lost && said.insert((one.min(two), one.max(two))) {
                problems.push(Problem::OrderUnclear { first: other.entry, second: step.entry });
            }
            own.what = Change::Lost;
        } else if further.may_quarrel(file, counts(&step)) {
            own.what = Change::Lost;
        }
        before.push_back(step);
        if before.len() > MOST_BEFORE
            && let Some(first) = before.pop_front()
        {
            further.add(book.entries[first.entry].file, counts(&first));
        }
    }
}

/// Of a day's lines too far back to be held against one by one: the first file of any of them and of those that count, and whether there
/// is another. Where one of another file is among them, what is left is not known.
#[derive(Default)]
struct Further {
    any: Option<(FileId, bool)>,
    counting: Option<(FileId, bool)>,
}

impl Further {
    fn add(&mut self, file: FileId, counts: bool) {
        for slot in std::iter::once(&mut self.any).chain(counts.then_some(&mut self.counting)) {
            let known = slot.get_or_insert((file, false));
            known.1 |= known.0 != file;
        }
    }

    fn may_quarrel(&self, file: FileId, counts: bool) -> bool {
        let among = if counts { self.any } else { self.counting };
        among.is_some_and(|(first, several)| several || first != file)
    }
}

/// Lines of one day that another is held against one by one, the last so many.
const MOST_BEFORE: usize = 100;

/// Counts that are not what the book says, and uses of more than there were: the first after each count.
fn differ(kind: KindId, steps: &[Step]) -> Vec<Problem> {
    let mut found = Vec::new();
    let (mut left, mut since, mut short) = (None, None, false);
    for step in steps {
        let entry = step.entry;
        match (step.what, left) {
            (Change::Counted(counted), Some(before)) if before != i64::from(counted) => {
                found.push(Problem::CountDiffers { entry, kind, counted, before, since });
            }
            (Change::Used(used), Some(before)) if !short && before < i64::from(used) => {
                short = true;
                found.push(Problem::UsedMoreThanThere { entry, kind, before, since });
            }
            _ => {}
        }
        if matches!(step.what, Change::Counted(_)) {
            (since, short) = (Some(entry), false);
        }
        left = step.what.after(left);
    }
    found
}
