//! What a client may know of the money: what was booked for his cars, to be paid by him. A buyer is told of none.
//!
//! Taken from the whole book's bookings, not worked out anew: a cost that is shared out by what other cars ran cannot be worked
//! out without them. Every total is added up again from what is left. Must not know views.

use super::policy::stated;
use super::scope::Scope;
use super::{Fate, Reader};
use crate::Compiled;
use crate::book::entry::Audience;
use crate::costs::{Costs, FailureCost, Posting};
use crate::money::Total;
use std::collections::BTreeMap;

/// The bookings a reader may have.
pub(super) fn costs(compiled: &Compiled, scope: &Scope<'_>, fates: &[Fate]) -> Costs {
    let all = &compiled.costs;
    let mut kept = Costs { home: all.home, ..Costs::default() };
    let Reader::Client(client) = scope.reader else { return kept };
    let rank = |entry: u32| compiled.history.order.rank.get(entry as usize).copied().unwrap_or(0);
    let open = |entry: u32| {
        let line = compiled.book.entries.get(entry as usize);
        let said = line.and_then(|line| stated(&compiled.book, &compiled.files, line));
        said.is_none_or(|audience| audience >= Audience::Client)
    };
    let his = |posting: &Posting| {
        let car = posting.car.is_some_and(|car| scope.owns(car, rank(posting.entry)));
        let pays = posting.client.map(|payer| payer == client);
        // A sum of the shop's own blocks is on nobody's page, whoever is to pay it.
        posting.car.is_some() && open(posting.entry) && (car && pays != Some(false) || pays == Some(true))
    };
    let mut places: BTreeMap<usize, usize> = BTreeMap::new();
    for (at, posting) in all.postings.iter().enumerate().filter(|(_, posting)| his(posting)) {
        places.insert(at, kept.postings.len());
        let mut posting = posting.clone();
        if posting.share.is_some() {
            // The whole of a shared sum is not his to know.
            posting.exchanged = None;
        }
        kept.postings.push(posting);
    }
    kept.find(&compiled.book);
    kept.quotes
        .extend(all.quotes.iter().filter(|quote| fates.get(quote.entry as usize) == Some(&Fate::Read)));
    kept.sold.extend(all.sold.iter().filter(|sold| {
        let line = compiled.book.entries.get(sold.entry as usize);
        scope.owns(sold.car, rank(sold.entry)) && line.is_some_and(|line| scope.money(line))
    }));
    let failures = all.failures.iter().filter(|one| scope.owns(one.car, one.rank));
    kept.failures = failures.map(|one| failure(one, &kept.postings, &places)).collect();
    kept
}

/// A failure's cost, added up again.
fn failure(one: &FailureCost, postings: &[Posting], places: &BTreeMap<usize, usize>) -> FailureCost {
    let kept = |list: &[usize]| list.iter().filter_map(|at| places.get(at).copied()).collect::<Vec<usize>>();
    let mut failure = FailureCost { parts: kept(&one.parts), work: kept(&one.work), ..one.clone() };
    failure.total = Total::default();
    for posting in failure.parts.iter().chain(&failure.work).filter_map(|at| postings.get(*at)) {
        posting.add_to(&mut failure.total);
    }
    if let Some(lost) = failure.lost {
        match lost.entry {
            Some(entry) => failure.total.add(entry),
            None => failure.total.at_least = true,
        }
    }
    failure
}
