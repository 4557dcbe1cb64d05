//! What clients paid and owe.
//!
//! A payment lowers no cost: what a client owes is what was booked to him less what he paid, exactly, a currency at a time. Since
//! when: what he paid on a job covers that job's lines first, everything else the oldest lines. Must not know messages or views.

use super::booking::{Booked, With};
pub use super::payment::{Payment, ToLender};
use super::posting::Kind;
use super::problem::Problem;
use super::{Costs, Posting};
use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::{CarId, ClientId, JobId};
use crate::book::names::Thing;
use crate::history::Facts;
use crate::history::order::Rank;
use crate::money::{Amount, Currency, Total};
use jiff::civil::Date;
use rust_decimal::Decimal;
use std::collections::{BTreeMap, BTreeSet};

/// How a client stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Account {
    /// Who.
    pub client: ClientId,
    /// What was booked to him.
    pub billed: Total,
    /// What he paid.
    pub paid: Total,
    /// What he owes, a currency at a time; below zero where he paid more than was booked.
    pub owed: Vec<Owed>,
    /// A line about a payment has a mistake: what he paid is not known.
    pub unknown: bool,
    /// Prize money of his cars that no line says the shop drew for him, below zero as all that came back: beside the account, not in it.
    pub prizes: Total,
}

/// What is owed in one currency.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Owed {
    /// How much.
    pub amount: Amount,
    /// The day of the oldest line that is not paid in full; `None` where nothing is owed.
    pub since: Option<Date>,
}

/// Who pays by a line.
enum Payer {
    One(ClientId),
    /// Nothing on the line or above it says so.
    Nobody,
    /// One of those that its job is booked to.
    Several(Vec<ClientId>),
    /// A mistake has taken it.
    Lost,
}

/// Whom a line names; on a job, whoever owned its car when it was opened and whom its lines are booked to, if that is one client; else whoever
/// owns the car of the head at that line. A line with a mistake that names nobody might have.
fn payer(with: With<'_>, index: EntryId, of_job: &BTreeMap<JobId, BTreeSet<ClientId>>) -> Payer {
    let Facts { book, history, .. } = with.facts;
    let Some(entry) = book.entries.get(index) else { return Payer::Lost };
    let extra = book.extra(entry);
    let facts = extra.and_then(|extra| extra.costs.as_deref());
    match facts.and_then(|facts| facts.client) {
        _ if facts.is_some_and(|facts| facts.client_lost) => return Payer::Lost,
        Some(client) => return Payer::One(client),
        None if entry.broken => return Payer::Lost,
        None => {}
    }
    let mut clients = BTreeSet::new();
    if let Some(job) = extra.and_then(|extra| extra.job) {
        let told = history.jobs.all.get(job);
        let opened = told.and_then(|told| Some((told.car?, told.opened()?.rank)));
        clients.extend(opened.and_then(|(car, rank)| history.parts.owner(book, car, rank)));
        clients.extend(of_job.get(&job).into_iter().flatten());
    }
    if clients.is_empty() {
        let car = book.head(entry).and_then(|head| head.car);
        let owner = car.and_then(|car| history.parts.owner(book, car, history.rank(book, index)));
        clients.extend(owner);
    }
    let mut clients: Vec<ClientId> = clients.into_iter().collect();
    // Nobody can read which car it is under, or whose that is.
    let head = book.head(entry);
    let unread = |car: CarId| book.unread.may_be(Some(Thing::Car(car)), "client");
    let lost = head.is_some_and(|head| head.car_unknown || head.car.is_some_and(unread));
    match (clients.pop(), clients.is_empty()) {
        (None, _) if lost => Payer::Lost,
        (None, _) => Payer::Nobody,
        (Some(one), true) => Payer::One(one),
        (Some(last), false) => {
            clients.push(last);
            Payer::Several(clients)
        }
    }
}

/// Every payment, in the order things happened.
pub(super) fn payments(with: With<'_>, stated: &[EntryId], booked: &mut Booked) -> Vec<Payment> {
    let Facts { book, history, .. } = with.facts;
    let is_paid = |line: &&EntryId| book.entries.get(**line).is_some_and(|entry| entry.verb == Verb::Paid);
    let paid: Vec<EntryId> = stated.iter().filter(is_paid).copied().collect();
    let mut of_job: BTreeMap<JobId, BTreeSet<ClientId>> = BTreeMap::new();
    for posting in booked.postings.iter().filter(|_| !paid.is_empty()) {
        if let Some((job, client)) = posting.job.zip(posting.client) {
            of_job.entry(job).or_default().insert(client);
        }
    }
    let mut all = Vec::new();
    for index in paid {
        let Some(entry) = book.entries.get(index) else { continue };
        let Some(head) = book.head(entry) else { continue };
        let extra = book.extra(entry);
        let facts = extra.and_then(|extra| extra.costs.as_deref());
        let client = match payer(with, index, &of_job) {
            Payer::One(client) => Some(client),
            Payer::Lost => None,
            Payer::Nobody => {
                booked.problems.push(Problem::PaidByNobody { entry: index });
                None
            }
            Payer::Several(clients) => {
                booked.problems.push(Problem::PaidBySeveral { entry: index, clients });
                None
            }
        };
        let date = history.order.date(book, index).unwrap_or(head.date);
        let sum = facts.filter(|_| !entry.broken).and_then(|facts| facts.sum);
        let sum = sum.map(|sum| {
            let home = with.home.and_then(|home| with.rates.convert(sum, home, date));
            home.map_or(sum, |(exchanged, _)| exchanged)
        });
        // A payment that no rate turns into the shop's currency settles nothing in it: that is said, once a currency.
        if let Some((sum, home)) = sum.zip(with.home)
            && sum.currency != home
            && !with.rates.has_lost(sum.currency, home)
            && !booked.problems.iter().any(
                |one| matches!(one, Problem::ExchangeMissing { currency, .. } if *currency == sum.currency),
            )
        {
            booked.problems.push(Problem::ExchangeMissing { entry: index, currency: sum.currency, more: 0 });
        }
        let back = facts.is_some_and(|facts| facts.back);
        let amount = sum.map(|sum| if back { sum.negated() } else { sum });
        all.push(Payment { entry: index, date, client, job: extra.and_then(|extra| extra.job), amount });
    }
    all.sort_by_key(|payment| history.order.rank.get(payment.entry).copied().unwrap_or(Rank::START));
    all
}

/// How every client stands; nobody where the book has no payment, or something of it is not the reader's to know. Who is not billed
/// (the shop's own) stands there only if he paid.
#[must_use]
pub fn accounts(book: &Book, costs: &Costs) -> Vec<Account> {
    if costs.payments.is_empty() && !costs.payer_unknown || costs.account_withheld {
        return Vec::new();
    }
    let unknown_whose = costs.payer_unknown;
    let mut of_client: BTreeMap<ClientId, (Vec<&Posting>, Vec<&Payment>, Total)> = BTreeMap::new();
    // A prize is the car's. Who drew it nobody says, unless its line credits a client: then the shop did.
    for posting in &costs.postings {
        if let Some(client) = posting.client {
            let own = of_client.entry(client).or_default();
            if posting.kind == Kind::Prize && !posting.named {
                posting.add_to(&mut own.2);
            } else {
                own.0.push(posting);
            }
        }
    }
    for payment in &costs.payments {
        if let Some(client) = payment.client {
            of_client.entry(client).or_default().1.push(payment);
        }
    }
    let billed = |client: ClientId| book.clients.get(client).is_some_and(|client| !client.unbilled);
    let stands = of_client.into_iter().filter(|(client, (_, paid, _))| billed(*client) || !paid.is_empty());
    stands
        .map(|(client, (postings, paid, prizes))| Account {
            prizes,
            ..account(client, &postings, &paid, unknown_whose)
        })
        .collect()
}

fn account(client: ClientId, postings: &[&Posting], payments: &[&Payment], unknown_whose: bool) -> Account {
    let (mut billed, mut paid) = (Total::default(), Total::default());
    for posting in postings {
        posting.add_to(&mut billed);
    }
    payments.iter().filter_map(|payment| payment.amount).for_each(|amount| paid.add(amount));
    // Whether one with a mistake was paid or paid back, nobody knows.
    let lost = payments.iter().any(|payment| payment.amount.is_none());
    (paid.at_least, paid.at_most) = (lost, lost);
    let currencies: BTreeSet<Currency> =
        billed.sums().iter().chain(paid.sums()).map(|sum| sum.currency).collect();
    let owed = currencies.into_iter().filter_map(|currency| {
        let amount = billed.of(currency).plus(paid.of(currency).negated())?;
        let since = (amount.value > Decimal::ZERO).then(|| since(postings, payments, currency)).flatten();
        Some(Owed { amount, since })
    });
    let owed = owed.collect();
    let unknown = unknown_whose || payments.iter().any(|payment| payment.amount.is_none());
    Account { client, billed, paid, owed, unknown, prizes: Total::default() }
}

/// The day of the oldest line that is not paid in full.
fn since(postings: &[&Posting], payments: &[&Payment], currency: Currency) -> Option<Date> {
    let in_it = |amount: Option<Amount>| {
        amount.filter(|amount| amount.currency == currency).map(|amount| amount.value)
    };
    let mut pool = Decimal::ZERO;
    let mut of_job: BTreeMap<JobId, Decimal> = BTreeMap::new();
    for payment in payments {
        let Some(value) = in_it(payment.amount) else { continue };
        let into = payment.job.map_or(&mut pool, |job| of_job.entry(job).or_default());
        *into = into.checked_add(value)?;
    }
    let mut left: Vec<(Date, Decimal)> = Vec::new();
    for posting in postings {
        let Some(value) = in_it(posting.amount) else { continue };
        if value <= Decimal::ZERO {
            pool = pool.checked_sub(value)?;
            continue;
        }
        let paid = posting.job.and_then(|job| of_job.get_mut(&job));
        let covered = paid.map_or(Decimal::ZERO, |paid| {
            let covered = value.min((*paid).max(Decimal::ZERO));
            *paid -= covered;
            covered
        });
        left.push((posting.date, value.checked_sub(covered)?));
    }
    // What was paid on a job beyond its lines covers the rest, as any other payment does.
    for rest in of_job.values() {
        pool = pool.checked_add(*rest)?;
    }
    left.sort_by_key(|(date, _)| *date);
    left.into_iter().find_map(|(date, value)| {
        let covered = value.min(pool.max(Decimal::ZERO));
        pool -= covered;
        (covered < value).then_some(date)
    })
}
