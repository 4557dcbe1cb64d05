//! Work that comes round again and falls due before or at the event.
//!
//! Must not know words.

use super::plan::Plan;
use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::model::{CarId, Clock, Every};
use crate::history::History;
use crate::history::intervals::{Since, intervals};
use crate::history::slots::Owner;
use crate::history::tally::months;
use jiff::civil::Date;

/// How pressing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Press {
    /// It is over already.
    Over,
    /// It falls in what is planned.
    During,
    /// Use since it was last done is not known, so nobody can say it is within.
    Unknown,
}

/// One work on one part or car.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Round {
    /// The part or the car.
    pub owner: Owner,
    /// The car it concerns.
    pub car: CarId,
    /// What is to be done, and after how much.
    pub every: Every,
    /// The line that did it last.
    pub last: Option<EntryId>,
    /// Use since then.
    pub since: Since,
    /// What is expected to come on top; `None` where it is not known.
    pub more: Option<f64>,
    /// On the calendar: the day it runs to.
    pub due_on: Option<Date>,
    /// How pressing.
    pub press: Press,
}

/// What falls due on the planned cars, the most pressing first.
#[must_use]
pub fn rounds(book: &Book, history: &History, plan: &Plan) -> Vec<Round> {
    let end = plan.end;
    let mut list: Vec<Round> = Vec::new();
    for one in intervals(book, history, plan.cut, plan.today) {
        let Some(car) = one.car.and_then(|car| plan.of(car)) else { continue };
        let amount = one.every.amount;
        let more = match amount.clock {
            Clock::Months => Some(months(plan.today, end).max(0.0)),
            clock => car.expected(clock),
        };
        let past = |value: f64| value > amount.value * (1.0 + 1e-9);
        let press = if one.since.value >= amount.value * (1.0 - 1e-9) {
            Press::Over
        } else if past(one.since.value + more.unwrap_or(0.0)) {
            Press::During
        } else if one.since.at_least && one.last.is_none() {
            Press::Unknown
        } else {
            continue;
        };
        list.push(Round {
            owner: one.owner,
            car: car.car,
            every: *one.every,
            last: one.last,
            since: one.since,
            more,
            due_on: one.due_on,
            press,
        });
    }
    list.sort_by(|a, b| {
        let share = |one: &Round| one.since.value / one.every.amount.value.max(f64::MIN_POSITIVE);
        a.press.cmp(&b.press).then(share(b).total_cmp(&share(a))).then(a.car.cmp(&b.car))
    });
    list
}
