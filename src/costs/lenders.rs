//! What the shop owes to lenders: for borrowed parts that broke or were lost while they were here, until a line buys them.
//!
//! Must not know what clients owe, nor messages or views.

use super::payment::ToLender;
use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::PartId;
use crate::history::History;
use crate::history::parts::{Loan, loan};

/// What is owed, one a time a part was borrowed and broke.
pub(super) fn to_lenders(book: &Book, history: &History) -> Vec<ToLender> {
    let mut all = Vec::new();
    for (part, told) in history.parts.all.iter_enumerated() {
        for one in told.loans.iter().filter(|one| !one.lent) {
            let line = one.out.1;
            // Of what is inside a borrowed assembly, the assembly's own sum is owed.
            if !loan::names(book, line, part) || bought_by(book, history, part, one).is_some() {
                continue;
            }
            let Some(entry) = broke(book, history, part, one) else { continue };
            let Some(date) = history.order.date(book, entry) else { continue };
            let entered = book.entries.get(line);
            let facts = entered.and_then(|line| book.extra(line)).and_then(|extra| extra.parts.as_deref());
            let whom = facts.and_then(|facts| facts.loan.as_ref()).and_then(|loan| loan.whom);
            let sum = facts.and_then(|facts| facts.money);
            let lost = facts.is_some_and(|facts| facts.money_lost) || entered.is_none_or(|line| line.broken);
            all.push(ToLender { part, whom, sum, sum_lost: lost, entry, date });
        }
    }
    all.sort_by_key(|one| (one.date, one.part));
    all
}

/// The line that buys a part of a loan: after it was borrowed, and before it was borrowed once more.
fn bought_by(book: &Book, history: &History, part: PartId, one: &Loan) -> Option<EntryId> {
    let told = history.parts.get(part);
    let next =
        told.loans.iter().filter(|other| !other.lent && other.out.0 > one.out.0).map(|other| other.out.0);
    let next = next.min();
    let buys = |line: &EntryId| {
        let rank = history.rank(book, *line);
        let buys = book.entries.get(*line).is_some_and(|entry| entry.verb == Verb::Buy);
        buys && rank > one.out.0 && next.is_none_or(|next| rank < next)
    };
    told.lines.iter().copied().find(buys)
}

/// The first line of a loan that says that the part failed, or was scrapped, while it was here.
fn broke(book: &Book, history: &History, part: PartId, one: &Loan) -> Option<EntryId> {
    let told = history.parts.get(part);
    let rank = |line: EntryId| history.rank(book, line);
    let here =
        |line: &EntryId| rank(*line) > one.out.0 && one.back.is_none_or(|(back, _)| rank(*line) <= back);
    let scraps = |line: &EntryId| book.entries.get(*line).is_some_and(|entry| entry.verb == Verb::Scrap);
    let lost = told.lines.iter().copied().filter(scraps);
    told.failures.iter().copied().chain(lost).filter(here).min_by_key(|line| rank(*line))
}

/// Where a borrowed part broke, if it did before this line bought it.
pub(super) fn broke_before(book: &Book, history: &History, part: PartId, bought: EntryId) -> Option<EntryId> {
    let loans = history.parts.get(part).loans.iter().filter(|one| !one.lent);
    let mut of_line = loans.filter(|one| bought_by(book, history, part, one) == Some(bought));
    of_line.find_map(|one| broke(book, history, part, one))
}
