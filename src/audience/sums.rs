//! Whose money a line states: the client's who pays it, as the bookings say.
//!
//! A reader sees a sum where a booking of that line is his, whole; of a cost that is shared out he has his own share and nothing
//! else of the line's money. Must not know how a sum is covered.

use super::Reader;
use super::policy::stated;
use super::scope::Scope;
use crate::Compiled;
use crate::book::entry::{Audience, Entry, Verb};
use crate::book::model::{ClientId, PartId};
use crate::book::spoken_for::audience_outside_quotes;
use crate::costs::payment::Payment;
use crate::costs::{Kind, Posting};
use crate::history::order::Rank;
use crate::source::{FileId, Span};
use rustc_hash::FxHashMap;

/// Whether a client may have a booking: he pays it, and its line is not kept from him.
pub(super) fn his(scope: &Scope<'_>, posting: &Posting) -> bool {
    let Reader::Client(client) = scope.reader else { return false };
    let line = scope.compiled.book.entries.get(posting.entry);
    let said = line.and_then(|line| stated(&scope.compiled.book, &scope.compiled.files, line));
    posting.client == Some(client)
        && (said.is_none_or(|audience| audience >= Audience::Client) || is_hole(scope, posting))
}

/// Whether a booking is only that something was booked: of a line that a mistake has made the shop's alone, and that names nobody whom it
/// is for. A total without it would be too small, and would not say so.
fn is_hole(scope: &Scope<'_>, posting: &Posting) -> bool {
    let line =
        scope.compiled.book.entries.get(posting.entry).filter(|line| line.broken && posting.is_unknown());
    line.is_some_and(|line| {
        let text = scope.compiled.files.text(line.span());
        audience_outside_quotes(text).is_none_or(|audience| audience >= Audience::Client)
    })
}

/// Of every part whose price was booked, who pays it.
pub(super) fn priced(compiled: &Compiled) -> FxHashMap<PartId, Option<ClientId>> {
    let prices = compiled.costs.postings.iter().filter(|posting| is_price(posting));
    prices.filter_map(|posting| Some((posting.part?, posting.client))).collect()
}

/// Who paid, by where the line stands.
pub(super) fn payers(compiled: &Compiled) -> FxHashMap<(FileId, u32), ClientId> {
    let line =
        |payment: &Payment| compiled.book.entries.get(payment.entry).map(|line| (line.file, line.start));
    compiled.costs.payments.iter().filter_map(|payment| line(payment).zip(payment.client)).collect()
}

/// Whether a booking is the price of a part, on the line that first fits it or sells it unused: no sum of that line.
fn is_price(posting: &Posting) -> bool {
    posting.part.is_some() && !matches!(posting.kind, Kind::Transfer | Kind::Sold)
}

/// Of every line with bookings, by where it stands, whether its sums are the reader's: a booking of the whole of it is his, or
/// all shares of it are.
pub(super) fn paid(scope: &Scope<'_>) -> FxHashMap<(FileId, u32), bool> {
    let mut paid: FxHashMap<(FileId, u32), bool> = FxHashMap::default();
    if !matches!(scope.reader, Reader::Client(_)) {
        return paid;
    }
    let (book, files) = (&scope.compiled.book, &scope.compiled.files);
    for posting in &scope.compiled.costs.postings {
        let Some(entry) = book.entries.get(posting.entry) else { continue };
        if is_price(posting) || !states_money(scope, entry) {
            continue;
        }
        let his = his(scope, posting);
        let known = paid.entry((entry.file, entry.start));
        match posting.share {
            Some(_) => _ = known.and_modify(|all| *all &= his).or_insert(his),
            None => _ = known.and_modify(|any| *any |= his).or_insert(his),
        }
    }
    // What a line says of itself stands before that.
    for entry in &book.entries {
        if let Some(paid) = paid.get_mut(&(entry.file, entry.start))
            && let Some(audience) = stated(book, files, entry)
            && !(*paid && audience >= Audience::Client)
        {
            *paid = audience >= scope.reader.level() && !is_anothers(scope, entry);
        }
    }
    paid
}

/// Whether a line sends its sum to a client who is not the reader.
fn is_anothers(scope: &Scope<'_>, entry: &Entry) -> bool {
    let facts = scope.compiled.book.extra(entry).and_then(|extra| extra.costs.as_ref());
    facts.and_then(|facts| facts.client).is_some_and(|client| !scope.is_self(client))
}

pub(super) fn states_money(scope: &Scope<'_>, entry: &Entry) -> bool {
    let Some(extra) = scope.compiled.book.extra(entry) else { return false };
    extra.costs.is_some() || extra.parts.as_ref().is_some_and(|facts| facts.money.is_some())
}

/// The same of a line without a booking: a quote, a price that a part is bought for, what a car is sold for.
pub(super) fn of_line(scope: &Scope<'_>, entry: &Entry) -> bool {
    let (book, files) = (&scope.compiled.book, &scope.compiled.files);
    if let Some(audience) = stated(book, files, entry) {
        return audience >= scope.reader.level() && !is_anothers(scope, entry);
    }
    // What was agreed with a lender is between the shop and him.
    if entry.verb == Verb::Borrow {
        return false;
    }
    if entry.verb == Verb::Paid {
        return scope.pays(entry);
    }
    let head = book.head(entry);
    let rank = head.map_or(Rank::START, |head| scope.rank(head.first));
    let extra = book.extra(entry);
    let facts = extra.and_then(|extra| extra.parts.as_ref());
    match scope.reader {
        // What he paid himself, and what the parts that he gets were bought for.
        Reader::Buyer(purchase) if purchase.prices => {
            let sale = purchase.sale.and_then(|sale| book.entries.get(sale));
            sale.is_some_and(|sale| sale.span() == entry.span())
                || entry.part().is_some_and(|part| scope.going.contains(&part))
        }
        Reader::Buyer(_) => false,
        Reader::Client(_) => {
            // What a part was bought for is paid by the first car it goes on, whatever head the line stands under.
            if let (Verb::Buy, Some(part)) = (entry.verb, entry.part()) {
                return scope.pays_for(part);
            }
            let of_job = || scope.compiled.history.jobs.all.get(extra?.job?)?.car;
            let car = head.and_then(|head| head.car).or_else(of_job);
            let to = facts.and_then(|facts| facts.car);
            if car.or(to).is_some() {
                return [car, to].into_iter().flatten().any(|car| scope.owns(car, rank))
                    && !is_anothers(scope, entry);
            }
            entry.part().is_some_and(|part| scope.pays_for(part))
        }
    }
}

/// The words of a line that are about its money and hold no sum: how it is shared out, from whom it was bought, the bill. They
/// go with the sums.
pub(super) fn beside(scope: &Scope<'_>, entry: &Entry) -> Vec<Span> {
    let Some(extra) = scope.compiled.book.extra(entry).filter(|_| is_about_money(entry)) else {
        return Vec::new();
    };
    let costs = extra.costs.as_deref();
    let split = costs.and_then(|facts| facts.split.as_ref()).map(|split| split.span);
    let invoice = costs.and_then(|facts| facts.invoice);
    let bill = extra.parts.as_ref().and_then(|facts| facts.invoice);
    [split, invoice, bill, extra.from].into_iter().flatten().collect()
}

/// The words of a line about a part lent or borrowed that are the shop's alone.
pub(super) fn of_loan(scope: &Scope<'_>, entry: &Entry) -> Vec<Span> {
    let facts = scope.compiled.book.extra(entry).and_then(|extra| extra.parts.as_deref());
    let Some(loan) = facts.and_then(|facts| facts.loan.as_deref()) else { return Vec::new() };
    [loan.whom_span, loan.until.map(|(_, span)| span)].into_iter().flatten().collect()
}

/// Whether `from` on such a line says who was paid.
pub(super) const fn is_about_money(entry: &Entry) -> bool {
    matches!(
        entry.verb,
        Verb::Buy
            | Verb::Sell
            | Verb::Result
            | Verb::Cost
            | Verb::Credit
            | Verb::Hours
            | Verb::Quote
            | Verb::Paid
    )
}
