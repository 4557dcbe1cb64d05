//! What an hour of work costs: by its own line, else by the line that opened its job, else by the client, else by the shop.
//!
//! One of them that could not be read is never passed over for the next. Must not know minutes, nor postings.

use super::posting::Belongs;
use crate::book::Book;
use crate::book::entry::CostFacts;
use crate::book::names::Thing;
use crate::history::History;
use crate::money::Amount;

/// What an hour of a line costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hourly {
    /// This.
    Of(Amount),
    /// Nothing: it is not billed.
    Unbilled,
    /// What says it could not be read.
    Unread,
    /// Nothing says what.
    Unsaid,
}

/// What an hour costs of a line that belongs there.
#[must_use]
pub fn hourly(book: &Book, history: &History, facts: &CostFacts, to: Belongs) -> Hourly {
    if facts.unbilled {
        return Hourly::Unbilled;
    }
    if let Some(rate) = facts.rate {
        return Hourly::Of(rate);
    }
    let client = to.client.and_then(|client| book.clients.get(client));
    if client.is_some_and(|client| client.unbilled) {
        return Hourly::Unbilled;
    }
    let unread = |of: Thing, property: &str| book.unread.may_be(Some(of), property);
    let of_client = to.client.map(Thing::Client);
    // Who pays, or whether he is billed at all.
    let payer_unread = match (of_client, to.car) {
        (Some(client), _) => unread(client, "unbilled"),
        (None, Some(car)) => unread(Thing::Car(car), "client"),
        (None, None) => false,
    };
    let opened = to.job.and_then(|job| history.jobs.all.get(job)?.opened());
    let opened = opened.and_then(|opened| book.entries.get(opened.entry));
    let of_job = opened.and_then(|line| book.extra(line)?.costs.as_ref()?.rate);
    if payer_unread || of_job.is_none() && opened.is_some_and(|line| line.broken) {
        return Hourly::Unread;
    }
    if let Some(rate) = of_job {
        return Hourly::Of(rate);
    }
    match (client.and_then(|client| client.rate), book.shop.rate) {
        (Some(rate), _) => Hourly::Of(rate),
        _ if of_client.is_some_and(|client| unread(client, "rate")) => Hourly::Unread,
        (None, Some(rate)) => Hourly::Of(rate),
        (None, None) if book.unread.has(None, "rate") => Hourly::Unread,
        (None, None) => Hourly::Unsaid,
    }
}
