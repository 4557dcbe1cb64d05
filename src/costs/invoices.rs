//! One invoice booked twice: the same number from the same source on two days, or one line typed twice.
//!
//! Lines of one invoice share their day; two days mean that it was booked again. Must not know sums.

use super::problem::Problem;
use crate::book::Book;
use crate::book::entry::{Entry, EntryId};
use crate::book::names::folded;
use crate::history::History;
use crate::history::order::Rank;
use crate::source::{Files, Span};
use crate::syntax::unquote;
use rayon::prelude::*;
use rustc_hash::FxHashMap;

/// Finds them.
#[must_use]
pub fn twice(book: &Book, files: &Files, history: &History, stated: &[EntryId]) -> Vec<Problem> {
    let mut problems = Vec::new();
    let mut lines: Vec<(Rank, EntryId, Span)> = Vec::new();
    for index in stated.iter().copied() {
        let Some(entry) = book.entries.get(index) else { continue };
        if let Some(invoice) = invoice(book, entry).filter(|_| !entry.broken) {
            let rank = history.order.rank.get(index).copied().unwrap_or(Rank::START);
            lines.push((rank, index, invoice));
        }
    }
    lines.sort_unstable_by_key(|(rank, ..)| *rank);
    let words = |span: Span| {
        let text = folded(unquote(files.text(span)));
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let key = |(_, index, invoice): (Rank, EntryId, Span)| {
        let entry = book.entries.get(index)?;
        let source = book.extra(entry).and_then(|extra| extra.from).map(words).unwrap_or_default();
        Some((entry, index, (source, words(invoice))))
    };
    let keys: Vec<_> = lines.into_par_iter().filter_map(key).collect();
    let mut seen: FxHashMap<(String, String), Vec<EntryId>> = FxHashMap::default();
    for (entry, index, key) in keys {
        let before = seen.entry(key).or_default();
        let again = before.iter().copied().find(|other| {
            book.entries.get(*other).is_some_and(|other| {
                let day = |entry: &Entry| book.head(entry).map(|head| (head.date, head.car));
                let (a, b) = (day(other), day(entry));
                let same_day = a.map(|(date, _)| date) == b.map(|(date, _)| date);
                !same_day || a == b && words(other.span()) == words(entry.span())
            })
        });
        if let Some(first) = again {
            problems.push(Problem::BilledTwice { entry: index, first });
        }
        before.push(index);
    }
    problems
}

fn invoice(book: &Book, entry: &Entry) -> Option<Span> {
    let extra = book.extra(entry)?;
    let cost = extra.costs.as_ref().and_then(|facts| facts.invoice);
    cost.or_else(|| extra.parts.as_ref().and_then(|facts| facts.invoice))
}
