//! What things cost, as plain data: totals by kind, what they come to for the running, failures, quotes, stock, and the lines
//! that every total is made of.
//!
//! Sums are texts with the decimals of their currency, so that no reader makes binary fractions of them. Must not know rendering.

#![deny(clippy::float_arithmetic, clippy::disallowed_types)]

mod beside;
mod lines;
mod owed;
mod rows;
mod sum;

use crate::Compiled;
pub use crate::answer::costs::sum::{Sum, SumsView};
use crate::answer::costs::sum::{hundredths, line};
use crate::book::model::{CarId, Clock};
use crate::costs::{Kind, Selection};
use crate::words::scale::Scale;
use serde::Serialize;

pub use beside::{FailureView, LostView, QuotedJob, SoldView, StockView};
pub use lines::{Exchanged, LineView, line_view, unknown};
pub use owed::{AccountView, NOTHING, OWED, PaymentView, ToLenderView, account_of, all_accounts, whom_words};
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
    /// Whether every car in it speaks miles.
    #[serde(skip)]
    pub in_miles: bool,
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
    /// What clients paid and owe; empty where the book has no payment, or only some lines are asked about.
    pub accounts: Vec<AccountView>,
    /// What is owed to lenders of parts that broke; in no total.
    pub to_lenders: Vec<ToLenderView>,
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

/// The statement of what is asked about, a row for each of `by`.
#[must_use]
pub fn statement(compiled: &Compiled, asked: Selection, by: CostsBy) -> Statement {
    let costs = &compiled.costs;
    let (kinds, rows, all, used) = rows::rows(compiled, &asked, by);
    let (failures, failed) = beside::failures(compiled, &asked, &used);
    let (stock, in_stock) = beside::stock(compiled, &asked);
    let book = &compiled.book;
    let mut cars: Vec<CarId> =
        used.iter().filter_map(|at| costs.postings.get(*at)).filter_map(|posting| posting.car).collect();
    cars.sort_unstable();
    cars.dedup();
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
        in_miles: Scale::of_cars(book, &cars, Clock::Distance).is_in_miles(),
        kinds,
        rows,
        all,
        failures,
        failed,
        jobs: beside::jobs(compiled, &asked),
        stock,
        in_stock,
        sold: beside::sold(compiled, &asked),
        accounts: owed::accounts_of(compiled, &asked),
        to_lenders: owed::to_lenders(compiled, &asked),
        lines: used.iter().filter_map(|at| lines::line_view(compiled, costs.postings.get(*at)?)).collect(),
    }
}
