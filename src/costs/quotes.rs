//! What a job was quoted at, and the line that went past it.
//!
//! Must not know how postings come about.

use super::problem::Problem;
use super::{Costs, Quoted, mentioned};
use crate::book::entry::{EntryId, Verb};
use crate::book::model::JobId;
use crate::history::order::Rank;
use crate::history::{Facts, History};
use crate::money::{Amount, Rates};

/// Finds each job's quote (the last of its lines) and whether its cost has passed it.
pub fn quotes(
    Facts { files, book, history }: Facts<'_>,
    rates: &Rates,
    stated: &[EntryId],
    costs: &mut Costs,
) {
    let mut lines: Vec<(Rank, EntryId)> = Vec::new();
    for index in stated.iter().copied() {
        if book.entries.get(index).is_some_and(|entry| entry.verb == Verb::Quote) {
            lines.push((history.order.rank.get(index).copied().unwrap_or(Rank::START), index));
        }
    }
    lines.sort_unstable();
    let mut last: Vec<Option<Quoted>> = vec![None; book.jobs.len()];
    for (_, index) in lines {
        let Some(entry) = book.entries.get(index) else { continue };
        if entry.broken {
            // What it would have quoted, and where its job cannot be made out of which of the car's.
            let said = mentioned::of(book, files.text(entry.span()));
            let car = book.head(entry).and_then(|head| head.car);
            let named: Vec<JobId> =
                book.extra(entry).and_then(|extra| extra.job).into_iter().chain(said.jobs).collect();
            for (job, slot) in last.iter_mut().enumerate() {
                let job = JobId::from(job);
                let of_car = || car.is_none() || history.jobs.all.get(job).is_some_and(|job| job.car == car);
                let quoted = slot.is_some() && named.is_empty() && of_car();
                if named.contains(&job) || quoted {
                    *slot = Some(Quoted { job, quote: None, entry: index });
                }
            }
            continue;
        }
        let Some(extra) = book.extra(entry) else { continue };
        let sum = extra.costs.as_ref().and_then(|facts| facts.sum);
        let (Some(job), Some(sum), Some(head)) = (extra.job, sum, book.head(entry)) else { continue };
        let date = history.order.date(book, index).unwrap_or(head.date);
        let quote = costs
            .home
            .and_then(|home| rates.convert(sum, home, date))
            .map_or(sum, |(exchanged, _)| exchanged);
        if let Some(slot) = last.get_mut(job.index()) {
            *slot = Some(Quoted { job, quote: Some(quote), entry: index });
        }
    }
    costs.quotes = last.into_iter().flatten().collect();
    let of = |quote: &Quoted| costs.of_job.get(quote.job.index()).map_or(&[][..], Vec::as_slice);
    let passed: Vec<Problem> =
        costs.quotes.iter().filter_map(|quote| passed(costs, quote, of(quote))).collect();
    costs.problems.extend(passed);
}

/// What is left of a job's quote at the moment before a rank, nothing where it is passed, and the quote's line; `None` without one, where
/// something booked on the job is in another currency, or where what it cost is not known.
#[must_use]
pub fn quote_left(costs: &Costs, history: &History, job: JobId, rank: Rank) -> Option<(Amount, EntryId)> {
    let by_then = |entry: EntryId| history.order.rank.get(entry).is_some_and(|at| *at < rank);
    let quoted = costs.quotes.iter().find(|quoted| quoted.job == job && by_then(quoted.entry))?;
    let on_job = costs.of_job.get(job.index()).into_iter().flatten();
    let mut left = quoted.quote?;
    for posting in on_job.filter_map(|at| costs.postings.get(*at)).filter(|posting| by_then(posting.entry)) {
        match posting.amount {
            Some(amount) => left = left.plus(amount.negated())?,
            None if posting.is_unknown() => return None,
            None => {}
        }
    }
    let over = left.value.is_sign_negative();
    Some((if over { Amount::zero(left.currency) } else { left }, quoted.entry))
}

fn passed(costs: &Costs, quoted: &Quoted, on_job: &[usize]) -> Option<Problem> {
    let Quoted { job, quote: Some(quote), entry } = *quoted else { return None };
    let mut cost = Amount::zero(quote.currency);
    let mut line = None;
    for posting in on_job.iter().filter_map(|at| costs.postings.get(*at)) {
        let Some(sum) = posting.amount.and_then(|amount| cost.plus(amount)) else { continue };
        if sum.value > quote.value && cost.value <= quote.value {
            line = Some(posting.entry);
        }
        cost = sum;
    }
    let line = line.filter(|_| cost.value > quote.value)?;
    Some(Problem::QuoteExceeded { entry: line, job, quote: entry, quoted: quote, cost })
}
