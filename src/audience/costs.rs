//! What a client may know of the money: what was booked for his cars, to be paid by him. A buyer is told of none.
//!
//! Taken from the whole book's bookings, not worked out anew: a cost that is shared out by what other cars ran cannot be worked
//! out without them. Every total is added up again from what is left. Must not know views.

use super::policy::stated;
use super::scope::Scope;
use super::{Fate, Reader, sums};
use crate::Compiled;
use crate::book::entry::{Audience, Entry, EntryId};
use crate::book::model::{ClientId, JobId, PartId};
use crate::costs::owed::Payment;
use crate::costs::{Costs, FailureCost, Kind, Posting};
use crate::ids::Arena;
use crate::money::Amount;
use crate::source::{FileId, Span};
use std::collections::{BTreeMap, BTreeSet};

/// The bookings a reader may have.
pub(super) fn costs(
    compiled: &Compiled,
    scope: &Scope<'_>,
    fates: &Arena<EntryId, Fate>,
    known: &BTreeSet<JobId>,
) -> Costs {
    let all = &compiled.costs;
    let mut kept = Costs { home: all.home, payer_unknown: all.payer_unknown, ..Costs::default() };
    let Reader::Client(_) = scope.reader else { return kept };
    let rank = |entry: EntryId| scope.rank(entry);
    let others = compiled.book.cars.keys().find(|car| !scope.knows(*car));
    let other = compiled.book.jobs.keys().find(|job| !known.contains(job));
    let mut places: BTreeMap<usize, usize> = BTreeMap::new();
    for (at, posting) in all.postings.iter().enumerate().filter(|(_, posting)| sums::his(scope, posting)) {
        places.insert(at, kept.postings.len());
        let mut posting = posting.clone();
        // Cars and jobs that he does not know are one to him: another's.
        posting.car = posting.car.and_then(|car| if scope.knows(car) { Some(car) } else { others });
        posting.job = posting.job.and_then(|job| if known.contains(&job) { Some(job) } else { other });
        if posting.share.is_some() {
            // The whole of a shared sum is not his to know.
            posting.exchanged = None;
        }
        kept.postings.push(posting);
    }
    kept.index(&compiled.book);
    let reads = |entry: EntryId| compiled.book.entries.get(entry).is_some_and(|line| scope.money(line));
    kept.quotes.extend(
        all.quotes.iter().filter(|quote| fates.get(quote.entry) == Some(&Fate::Read) && reads(quote.entry)),
    );
    let level = |entry: EntryId| {
        let line = compiled.book.entries.get(entry);
        let said = line.and_then(|line| stated(&compiled.book, &compiled.files, line));
        said.is_none_or(|audience| audience >= Audience::Client)
    };
    let paid = all.payments.iter().filter(|paid| paid.client.is_some_and(|client| scope.is_self(client)));
    kept.payments.extend(paid.filter(|paid| level(paid.entry)).map(|paid| Payment {
        job: paid.job.and_then(|job| if known.contains(&job) { Some(job) } else { other }),
        ..*paid
    }));
    kept.sold
        .extend(all.sold.iter().filter(|sold| scope.owns(sold.car, rank(sold.entry)) && reads(sold.entry)));
    let failures = all.failures.iter().filter(|one| scope.owns(one.car, one.rank));
    kept.failures = failures.map(|one| failure(one, &kept.postings, &places)).collect();
    kept
}

/// The lines that what he pays comes from, and where its prices stand.
pub(super) fn told<'a>(compiled: &'a Compiled, kept: &'a Costs) -> impl Iterator<Item = Span> + 'a {
    let line = |entry: EntryId| compiled.book.entries.get(entry).map(Entry::span);
    let booked = kept.postings.iter().flat_map(move |posting| [line(posting.entry), posting.price]);
    booked.chain(kept.payments.iter().map(move |paid| line(paid.entry))).flatten()
}

/// Whether a client has all of his account: every booking to him and every payment of his, none of them hidden from him, nor after the moment
/// at which the book ends for him.
pub(super) fn has_whole_account(whole: &Compiled, kept: &Compiled, client: ClientId) -> bool {
    account_of(whole, client) == account_of(kept, client)
}

/// A booking or a payment as it is known in the whole book and in a reader's alike: where its line stands, what of that line it is, and
/// how much. As many lines are not the same lines.
type Booked = (Option<(FileId, u32)>, Option<Kind>, Option<u32>, Option<PartId>, Option<Amount>, bool);

fn account_of(compiled: &Compiled, client: ClientId) -> Vec<Booked> {
    let line = |entry: EntryId| compiled.book.entries.get(entry).map(|line| (line.file, line.start));
    let postings = compiled.costs.postings.iter().filter(|posting| posting.client == Some(client));
    let booked = postings.map(|posting| {
        let Posting { entry, kind, share, part, amount, unbilled, .. } = posting;
        (line(*entry), Some(*kind), share.map(|(index, _)| index), *part, *amount, *unbilled)
    });
    let payments = compiled.costs.payments.iter().filter(|payment| payment.client == Some(client));
    let paid = payments.map(|payment| (line(payment.entry), None, None, None, payment.amount, false));
    let mut all: Vec<Booked> = booked.chain(paid).collect();
    all.sort_by_key(|(line, kind, share, part, ..)| (*line, *kind, *share, *part));
    all
}

/// A failure's cost, added up again.
fn failure(one: &FailureCost, postings: &[Posting], places: &BTreeMap<usize, usize>) -> FailureCost {
    let kept = |list: &[usize]| list.iter().filter_map(|at| places.get(at).copied()).collect::<Vec<usize>>();
    let mut failure =
        FailureCost { parts: kept(&one.parts), work: kept(&one.work), fees: kept(&one.fees), ..one.clone() };
    failure.add_up(postings);
    failure
}
