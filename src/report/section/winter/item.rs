//! A job or part of the winter plan, why it is there and what it takes.
//!
//! Must not know where items come from.

use crate::answer::costs::Sum;
use crate::book::by_clock::ByClock;
use crate::book::model::{CarId, EventId};
use crate::history::order::Rank;
use crate::history::tally::Tally;
use crate::money::{Amount, Rates, Total};
use crate::report::desk::Desk;
use crate::report::section::link::Link;
use crate::report::words;
use crate::source::Span;
use jiff::civil::Date;
use serde::Serialize;

/// A job, or a part.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct WinterItem {
    /// The job's name, or the part's.
    pub name: String,
    /// What is to be done, or what the part is and where.
    pub about: String,
    /// The part's page.
    pub page: Option<Link>,
    /// Why it is here.
    pub why: Vec<WinterWhy>,
    /// What is left of the job's quote, or what a new part costs; an en dash where the book does not say.
    pub price: String,
    /// Where the price stands; may be empty.
    pub price_src: String,
}

/// A reason.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct WinterWhy {
    /// "put off to winter", "88 min left of 300 min: less than an event".
    pub text: String,
    /// Whether the car is not to run before it is seen to, or a day is over.
    pub now: bool,
    /// The words after `because`; may be empty.
    pub because: String,
    /// Its line.
    pub src: String,
}

/// What is looked at: the car, the moment before a rank and its day, and the season that has ended.
pub(super) struct Asked<'d, 'a> {
    pub(super) desk: &'d Desk<'a>,
    pub(super) car: CarId,
    pub(super) rank: Rank,
    pub(super) on: Date,
    /// The last day of the next season.
    pub(super) end: Date,
    pub(super) next: Option<EventId>,
    /// What one event of the car's is, by clock.
    pub(super) event: ByClock<Option<f64>>,
    pub(super) season: Tally,
}

/// Adds a price, and says it.
pub(super) fn price(
    asked: &Asked<'_, '_>,
    known: Option<(Amount, Span)>,
    total: &mut Total,
) -> (String, String) {
    let tell = asked.desk.tell;
    let Some((typed, at)) = known else { return (words::DASH.to_owned(), String::new()) };
    let home = tell.compiled.costs.home;
    let book = tell.cx.book;
    let rates =
        || Rates::new(book.exchanges.iter().map(|exchange| exchange.rate).collect(), book.lost_rates.clone());
    let amount = match home.filter(|home| *home != typed.currency) {
        Some(home) => rates().convert(typed, home, asked.on).map_or(typed, |(exchanged, _)| exchanged),
        None => typed,
    };
    total.add(amount);
    (Sum::of(amount).words(home.map(crate::money::Currency::code)), tell.src(at))
}
