//! What things cost, as plain data: totals by kind, what they come to for the running, failures, quotes, stock, and the lines
//! that every total is made of.
//!
//! Sums are texts with the decimals of their currency, so that no reader makes binary fractions of them. Must not know rendering.

#![deny(clippy::float_arithmetic, clippy::disallowed_types)]

mod beside;
mod lines;
mod rows;

use super::LedgerLine;
use crate::Compiled;
use crate::book::entry::EntryId;
use crate::costs::{Kind, Selection};
use crate::money::{Amount, Total, round};
use rust_decimal::Decimal;
use serde::Serialize;

pub use beside::{FailureView, LostView, QuotedJob, SoldView, StockView};
pub use lines::{Exchanged, LineView};
pub use rows::{CellView, CostRow, CostsBy};

/// What was asked and what it cost.
#[derive(Debug, Clone, Serialize)]
pub struct Statement {
    /// What was asked.
    pub asked: Asked,
    /// The shop's currency, into which sums are exchanged where a rate is stated; null where it has none.
    pub currency: Option<&'static str>,
    /// What each row is: a car, a client, an event, a job.
    pub by: CostsBy,
    /// The kinds that something was booked under, in order.
    pub kinds: Vec<Kind>,
    /// The rows.
    pub rows: Vec<CostRow>,
    /// All of them together.
    pub all: CostRow,
    /// What failed, and what that cost; those sums are in the totals already.
    pub failures: Vec<FailureView>,
    /// All failures together.
    pub failed: SumsView,
    /// Jobs with a quote.
    pub jobs: Vec<QuotedJob>,
    /// Parts that were paid for and never fitted; in no total.
    pub stock: Vec<StockView>,
    /// All of them together.
    pub in_stock: SumsView,
    /// Cars that were sold; in no total.
    pub sold: Vec<SoldView>,
    /// The lines, numbered from 0.
    pub lines: Vec<LineView>,
}

/// What was asked; null for all.
#[derive(Debug, Clone, Serialize)]
pub struct Asked {
    /// The car.
    pub car: Option<String>,
    /// The client.
    pub client: Option<String>,
    /// The event.
    pub event: Option<String>,
    /// The job.
    pub job: Option<String>,
    /// The year.
    pub season: Option<i16>,
}

/// An amount of money.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Sum {
    /// With the decimals of its currency: `2943.90`, `-25.00`.
    pub amount: String,
    /// ISO 4217.
    pub currency: &'static str,
}

/// Sums, one a currency, and working time.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct SumsView {
    /// One a currency; two are never added.
    pub sums: Vec<Sum>,
    /// Hours of work that it charges for; null for none.
    pub hours: Option<String>,
    /// Hours of work that are counted and not charged; null for none.
    pub unbilled_hours: Option<String>,
    /// Something in it is not known, so that it is this much or more.
    pub at_least: bool,
}

impl Sum {
    /// An amount as a view.
    #[must_use]
    pub fn of(amount: Amount) -> Self {
        Self { amount: amount.digits(), currency: amount.currency.code() }
    }

    /// In words: `2943.90` in the currency that goes without saying, `120.00 GBP` in another.
    #[must_use]
    pub fn words(&self, silent: Option<&str>) -> String {
        if Some(self.currency) == silent {
            self.amount.clone()
        } else {
            format!("{} {}", self.amount, self.currency)
        }
    }
}

impl SumsView {
    /// A total as a view.
    #[must_use]
    pub fn of(total: &Total) -> Self {
        Self {
            sums: total.sums().iter().copied().map(Sum::of).collect(),
            hours: (!total.minutes.is_zero()).then(|| total.minutes.hours()),
            unbilled_hours: (!total.unbilled.is_zero()).then(|| total.unbilled.hours()),
            at_least: total.at_least,
        }
    }

    /// In words: `2943.90` in the currency that goes without saying, `120.00 GBP` in another, `-` for nothing.
    #[must_use]
    pub fn words(&self, silent: Option<&str>) -> String {
        let sums = self.sums.iter().map(|sum| sum.words(silent)).collect::<Vec<_>>().join(" + ");
        match (sums.is_empty(), self.at_least) {
            (true, true) => "not known".to_owned(),
            (true, false) => "-".to_owned(),
            (false, true) => format!("at least {sums}"),
            (false, false) => sums,
        }
    }

    /// The same with the hours worked: `1247.00 (21.5 h)`, `not billed (74.0 h)`.
    #[must_use]
    pub fn with_hours(&self, silent: Option<&str>) -> String {
        let sums = self.words(silent);
        match (&self.hours, &self.unbilled_hours) {
            (None, None) => sums,
            (Some(hours), None) => format!("{sums} ({hours} h)"),
            (None, Some(unbilled)) if sums == "-" => format!("not billed ({unbilled} h)"),
            (None, Some(unbilled)) => format!("{sums} ({unbilled} h not billed)"),
            (Some(hours), Some(unbilled)) => format!("{sums} ({hours} h; {unbilled} h not billed)"),
        }
    }
}

/// The statement of what is asked about, a row for each of `by`.
#[must_use]
pub fn statement(compiled: &Compiled, asked: Selection, by: CostsBy) -> Statement {
    let costs = &compiled.costs;
    let (kinds, rows, all, used) = rows::rows(compiled, &asked, by);
    let (failures, failed) = beside::failures(compiled, &asked, &used);
    let (stock, in_stock) = beside::stock(compiled, &asked);
    let book = &compiled.book;
    let name = |named: Option<&crate::book::model::Named>| named.map(|named| named.typed.to_string());
    Statement {
        asked: Asked {
            car: name(asked.car.and_then(|id| book.cars.get(id)).map(|one| &one.named)),
            client: name(asked.client.and_then(|id| book.clients.get(id)).map(|one| &one.named)),
            event: name(asked.event.and_then(|id| book.events.get(id)).map(|one| &one.named)),
            job: name(asked.job.and_then(|id| book.jobs.get(id)).map(|one| &one.named)),
            season: asked.year,
        },
        currency: costs.home.map(crate::money::Currency::code),
        by,
        kinds,
        rows,
        all,
        failures,
        failed,
        jobs: beside::jobs(compiled, &asked),
        stock,
        in_stock,
        sold: beside::sold(compiled, &asked),
        lines: used.iter().filter_map(|at| lines::line_view(compiled, costs.postings.get(*at)?)).collect(),
    }
}

/// Whole units as a decimal with two places: seconds as hours, millimetres as kilometres.
fn hundredths(units: u64, each: u64) -> Option<String> {
    round::quotient(Decimal::from(units), Decimal::from(each), 2).map(|value| value.to_string())
}

/// The line of an entry.
fn line(compiled: &Compiled, entry: EntryId) -> LedgerLine {
    super::entry_line(compiled, entry).unwrap_or(LedgerLine { path: String::new(), line: 0 })
}
