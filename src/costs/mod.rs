//! What everything cost: each line about money or hours, and each part when it is first fitted, as postings to a car, a client, an
//! event and a job. Every total is a sum of postings, and opens to their lines.
//!
//! Exact throughout, see [`crate::money`]. Must not know messages, views or the terminal.

#![deny(clippy::float_arithmetic, clippy::disallowed_types)]

mod account;
mod booking;
mod failing;
mod failure;
mod invoices;
mod keys;
mod lenders;
mod lost;
mod mentioned;
pub mod owed;
mod parts;
pub mod payment;
pub mod posting;
mod prizes;
pub mod problem;
mod quotes;
mod ran;
mod rate;
pub mod running;
pub mod select;
pub mod table;

use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
pub use crate::costs::account::{Costs, Quoted, SoldCar, Stocked};
use crate::history::Facts;
use crate::history::History;
use crate::money::Rates;
use crate::source::Files;
use booking::With;
pub use failing::{FailureCost, Lost};
pub use parts::list_price;
pub use posting::{Kind, Posting};
pub use quotes::quote_left;
use rayon::prelude::*;
pub use select::Selection;

/// Works out what everything cost. A book that states no money and no hours has no costs.
#[must_use]
pub fn fold(book: &Book, files: &Files, history: &History) -> Costs {
    let home = book.shop.currency;
    let mut costs = Costs { home, ..Costs::default() };
    let (stated, ran) = rayon::join(|| stated(book), || ran::Ran::of(book, history));
    if !states_money(book, &stated) {
        return costs;
    }
    let rates =
        Rates::new(book.exchanges.iter().map(|exchange| exchange.rate).collect(), book.lost_rates.clone());
    let with = With { facts: Facts { files, book, history }, rates: &rates, ran: &ran, home };
    let (booked, twice) =
        rayon::join(|| booked(with, &stated), || invoices::twice(book, files, history, &stated));
    let mut booked = booked;
    prizes::drawn(book, &mut booked.postings);
    costs.payments = owed::payments(with, &stated, &mut booked);
    costs.payer_unknown = costs.payments.iter().any(|payment| payment.client.is_none());
    costs.to_lenders = lenders::to_lenders(book, history);
    (costs.postings, costs.problems) = (booked.postings, booked.problems);
    (costs.stock, costs.sold) = (booked.stock, booked.sold);
    costs.problems.extend(twice);
    costs.index(book);
    quotes::quotes(with.facts, &rates, &stated, &mut costs);
    costs.failures = failing::failures(book, history, &ran, &stated, &costs);
    costs
}

/// Lines and parts taken at a time: the same on any machine, so that the order of what they make is too.
const AT_A_TIME: usize = 8192;

/// Books every line, and every part when it is first fitted.
fn booked(with: With<'_>, stated: &[EntryId]) -> booking::Booked {
    let lines = || stated.par_chunks(AT_A_TIME).map(|lines| booking::lines(with, lines)).collect::<Vec<_>>();
    let parts = with.book.parts.keys().collect::<Vec<_>>();
    let fits = || parts.par_chunks(AT_A_TIME).map(|parts| parts::first_fits(with, parts)).collect::<Vec<_>>();
    let (lines, fits) = rayon::join(lines, fits);
    let unnamed = [parts::unnamed(with)];
    booking::Booked::all(with, lines.into_iter().chain(fits).chain(unnamed).collect())
}

/// The lines that can have to do with money, in the order of the files: everything that looks at such lines looks at these.
fn stated(book: &Book) -> Vec<EntryId> {
    let all = book.entries.as_slice().par_iter().enumerate();
    let lines = all.filter(|(_, entry)| {
        matches!(
            entry.verb,
            Verb::Hours
                | Verb::Cost
                | Verb::Credit
                | Verb::Result
                | Verb::Quote
                | Verb::Paid
                | Verb::Borrow
                | Verb::Buy
                | Verb::Sell
                | Verb::Move
                | Verb::Hit
        )
    });
    lines.map(|(index, _)| EntryId::from(index)).collect()
}

fn states_money(book: &Book, stated: &[EntryId]) -> bool {
    let priced = book.specs.iter().any(|spec| spec.price.is_some())
        || book.parts.iter().any(|part| part.price.is_some());
    let entries = stated.iter().filter_map(|index| book.entries.get(*index));
    priced
        || entries.into_iter().any(|entry| {
            // What was agreed with a lender may have stood on a line that cannot be read.
            let lost = entry.broken && entry.verb == Verb::Borrow;
            lost || book.extra(entry).is_some_and(|extra| {
                let sum = extra.parts.as_ref().is_some_and(|facts| facts.money.is_some() || facts.money_lost);
                sum || extra.costs.is_some()
            })
        })
}
