//! One invoice booked twice: the same number from the same source on two days, or one line typed twice.
//!
//! Lines of one invoice share their day; two days mean that it was booked again. Must not know sums.

use super::problem::Problem;
use crate::book::Book;
use crate::book::entry::Entry;
use crate::book::names::folded;
use crate::history::History;
use crate::source::{Files, Span};
use crate::syntax::unquote;
use rayon::prelude::*;
use rustc_hash::FxHashMap;

/// Finds them.
#[must_use]
pub fn twice(book: &Book, files: &Files, history: &History, stated: &[u32]) -> Vec<Problem> {
    let mut problems = Vec::new();
    let mut lines: Vec<(u32, u32, Span)> = Vec::new();
    for index in stated.iter().copied() {
        let Some(entry) = book.entries.get(index as usize) else { continue };
        if let Some(invoice) = invoice(book, entry).filter(|_| !entry.broken) {
            let rank = history.order.rank.get(index as usize).copied().unwrap_or(0);
            lines.push((rank, index, invoice));
        }
    }
    lines.sort_unstable_by_key(|(rank, ..)| *rank);
    let words = |span: Span| {
        let text = folded(unquote(files.text(span)));
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let key = |(_, index, invoice): (u32, u32, Span)| {
        let entry = book.entries.get(index as usize)?;
        let source = book.extra(entry).and_then(|extra| extra.from).map(words).unwrap_or_default();
        Some((entry, index, (source, words(invoice))))
    };
    let keys: Vec<_> = lines.into_par_iter().filter_map(key).collect();
    let mut seen: FxHashMap<(String, String), Vec<u32>> = FxHashMap::default();
    for (entry, index, key) in keys {
        let before = seen.entry(key).or_default();
        let again = before.iter().copied().find(|other| {
            book.entries.get(*other as usize).is_some_and(|other| {
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
