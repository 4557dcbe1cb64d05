//! What stands beside the totals: what failures cost, quotes, stock, cars sold.
//!
//! Must not know rows.

use super::{Sum, SumsView, line};
use crate::Compiled;
use crate::answer::LedgerLine;
use crate::book::entry::EntryId;
use crate::book::model::CarId;
use crate::costs::{FailureCost, Selection};
use crate::history::order::Rank;
use crate::money::{Amount, Total};
use serde::Serialize;

/// A failure or an impact, and what it cost.
#[derive(Debug, Clone, Serialize)]
pub struct FailureView {
    /// The day.
    pub date: String,
    /// The car.
    pub car: String,
    /// The event.
    pub event: Option<String>,
    /// The part that failed, or the words about the impact.
    pub what: String,
    /// The job that it is tied to.
    pub job: Option<String>,
    /// The part that took its place.
    pub parts: SumsView,
    /// What its job cost.
    pub work: SumsView,
    /// Sessions lost; null for none.
    pub lost: Option<LostView>,
    /// All of it.
    pub total: SumsView,
    /// Numbers of the lines it is made of; those outside what is asked about have none.
    pub lines: Vec<usize>,
    /// Its line.
    pub line: LedgerLine,
}

/// Sessions that were paid for and lost.
#[derive(Debug, Clone, Serialize)]
pub struct LostView {
    /// How many.
    pub sessions: u32,
    /// Of how many.
    pub planned: u32,
    /// Whether the event states that; else the other cars' sessions say so.
    pub stated: bool,
    /// Their share of the entry money; null where that is not known.
    pub entry: Option<Sum>,
}

/// A job with a quote.
#[derive(Debug, Clone, Serialize)]
pub struct QuotedJob {
    /// Its name.
    pub job: String,
    /// What is to be done.
    pub title: String,
    /// The quote that stands; null where a mistake has taken it.
    pub quote: Option<Sum>,
    /// What it has cost.
    pub cost: SumsView,
    /// What is left of the quote; below zero where it is passed (by at least so much, where the cost is), null where that is not known
    /// or currencies differ.
    pub left: Option<Sum>,
    /// The quote's line.
    pub line: LedgerLine,
}

/// A part in stock.
#[derive(Debug, Clone, Serialize)]
pub struct StockView {
    /// The part.
    pub part: String,
    /// What it cost.
    pub price: Sum,
    /// Where the price stands.
    pub line: LedgerLine,
}

/// A car that was sold.
#[derive(Debug, Clone, Serialize)]
pub struct SoldView {
    /// The car.
    pub car: String,
    /// For how much.
    pub price: Sum,
    /// The line.
    pub line: LedgerLine,
}

/// What failed, and all of it together. `used` are the postings that lines are numbered by.
pub(super) fn failures(
    compiled: &Compiled,
    asked: &Selection,
    used: &[usize],
) -> (Vec<FailureView>, SumsView) {
    let mut all = Total::default();
    let list = asked.failures(&compiled.book, &compiled.history, &compiled.costs).map(|one| {
        all.add_all(&one.total);
        failure(compiled, one, used)
    });
    let list = list.collect();
    (list, SumsView::of(&all))
}

fn failure(compiled: &Compiled, one: &FailureCost, used: &[usize]) -> FailureView {
    let (book, costs) = (&compiled.book, &compiled.costs);
    let cx = compiled.context();
    let sum = |list: &[usize]| {
        let mut total = Total::default();
        for posting in list.iter().filter_map(|at| costs.postings.get(*at)) {
            posting.add_to(&mut total);
        }
        SumsView::of(&total)
    };
    let numbers = one.parts.iter().chain(&one.work).filter_map(|at| used.binary_search(at).ok());
    FailureView {
        date: one.date.to_string(),
        car: cx.car(one.car).to_owned(),
        event: one.event.and_then(|id| book.events.get(id)).map(|event| event.named.typed.to_string()),
        what: what(compiled, one),
        job: one.job.and_then(|id| book.jobs.get(id)).map(|job| job.named.typed.to_string()),
        parts: sum(&one.parts),
        work: sum(&one.work),
        lost: one.lost.map(|lost| LostView {
            sessions: lost.sessions,
            planned: lost.planned,
            stated: lost.stated,
            entry: lost.entry.map(Sum::of),
        }),
        total: SumsView::of(&one.total),
        lines: numbers.collect(),
        line: line(compiled, one.entry),
    }
}

/// `cp-05`, or `hit RF, tyre wall`.
fn what(compiled: &Compiled, one: &FailureCost) -> String {
    let cx = compiled.context();
    if let Some(part) = one.part {
        return cx.part(part).to_owned();
    }
    let extra = compiled.book.entries.get(one.entry).and_then(|entry| compiled.book.extra(entry));
    let place = extra.and_then(|extra| extra.parts.as_ref()).and_then(|facts| facts.place);
    let place = place.map_or_else(String::new, |place| format!(" {}", cx.place(place)));
    let words = extra.and_then(|extra| extra.words.first());
    let words =
        words.map_or_else(String::new, |span| format!(", {}", crate::syntax::unquote(cx.text(*span))));
    format!("hit{place}{words}")
}

/// Jobs with a quote.
pub(super) fn jobs(compiled: &Compiled, asked: &Selection) -> Vec<QuotedJob> {
    let (book, costs) = (&compiled.book, &compiled.costs);
    let history = &compiled.history;
    let payer = |car: Option<CarId>, entry: EntryId| {
        history.parts.owner(book, car?, history.order.rank.get(entry).copied().unwrap_or(Rank::START))
    };
    let wanted = costs.quotes.iter().filter(|quoted| {
        let car = history.jobs.all.get(quoted.job).and_then(|job| job.car);
        let day = history.order.date(book, quoted.entry);
        asked.event.is_none()
            && asked.job.is_none_or(|job| job == quoted.job)
            && asked.car.is_none_or(|wanted| car == Some(wanted))
            && asked.client.is_none_or(|wanted| payer(car, quoted.entry) == Some(wanted))
            && asked.year.is_none_or(|year| day.is_some_and(|day| day.year() == year))
    });
    wanted
        .filter_map(|quoted| {
            let job = book.jobs.get(quoted.job)?;
            let mut cost = Total::default();
            for at in costs.of_job.get(quoted.job.index()).into_iter().flatten() {
                if let Some(posting) = costs.postings.get(*at) {
                    posting.add_to(&mut cost);
                }
            }
            let quote = quoted.quote;
            let spent = match cost.sums() {
                [] => quote.map(|quote| Amount::zero(quote.currency)),
                [one] => Some(*one),
                _ => None,
            };
            let left = spent.zip(quote).and_then(|(spent, quote)| quote.plus(spent.negated()));
            // Of what the cost is not known to have passed nobody knows what is left.
            let passed = |left: &Amount| left.value.is_sign_negative() && !left.value.is_zero();
            let left = left.filter(|left| !cost.at_most && (!cost.at_least || passed(left)));
            Some(QuotedJob {
                job: job.named.typed.to_string(),
                title: job.named.title.clone(),
                quote: quoted.quote.map(Sum::of),
                left: left.map(Sum::of),
                cost: SumsView::of(&cost),
                line: line(compiled, quoted.entry),
            })
        })
        .collect()
}

/// Parts in stock: the shop's, so only where nothing narrower is asked about.
pub(super) fn stock(compiled: &Compiled, asked: &Selection) -> (Vec<StockView>, SumsView) {
    let mut total = Total::default();
    if (Selection { year: None, ..*asked }) != Selection::default() {
        return (Vec::new(), SumsView::default());
    }
    let mut list = Vec::new();
    for one in &compiled.costs.stock {
        let Some(part) = compiled.book.parts.get(one.part) else { continue };
        total.add(one.price);
        let bought =
            one.entry.and_then(|entry| compiled.book.entries.get(entry)).map(crate::book::entry::Entry::span);
        list.push(StockView {
            part: part.named.typed.to_string(),
            price: Sum::of(one.price),
            line: crate::answer::line(compiled, bought.unwrap_or(part.named.declared)),
        });
    }
    (list, SumsView::of(&total))
}

/// Cars that were sold.
pub(super) fn sold(compiled: &Compiled, asked: &Selection) -> Vec<SoldView> {
    let cx = compiled.context();
    let wanted = compiled.costs.sold.iter().filter(|one| {
        asked.event.is_none()
            && asked.job.is_none()
            && asked.client.is_none()
            && asked.car.is_none_or(|car| car == one.car)
            && asked.year.is_none_or(|year| cx.date(one.entry).is_some_and(|day| day.year() == year))
    });
    wanted
        .map(|one| SoldView {
            car: cx.car(one.car).to_owned(),
            price: Sum::of(one.price),
            line: line(compiled, one.entry),
        })
        .collect()
}
