//! How far a part is from the limits of its life, now and after what is planned.
//!
//! Must not know statistics.

use super::plan::CarPlan;
use crate::book::Book;
use crate::book::model::{Amount, Clock};
use crate::history::tally::months;
use crate::lives::Life;
use crate::lives::life::Lived;
use jiff::civil::Date;

/// One limit of a part's life.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// The limit as declared.
    pub limit: Amount,
    /// What the part has now.
    pub now: Lived,
    /// What is expected to come on top; `None` where the car's own use is not known.
    pub more: Option<f64>,
}

/// How a part stands to a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// At or past it now.
    Over,
    /// Passes it in what is planned.
    During,
    /// Its use is not known, so that nobody can say it is within.
    Unknown,
    /// It is within now, and what its car will run is not known.
    Unplanned,
    /// Would pass it if as much again followed.
    Soon,
    /// Within.
    Within,
}

/// A tenth of a second, a millimetre: sums of shares are not exact.
const SLACK: f64 = 1e-9;

impl Reach {
    /// What it will have after what is planned.
    #[must_use]
    pub fn after(&self) -> Option<f64> {
        self.more.map(|more| self.now.value + more)
    }

    /// What is left of it now; not below zero.
    #[must_use]
    pub fn left(&self) -> f64 {
        (self.limit.value - self.now.value).max(0.0)
    }

    /// How it stands.
    #[must_use]
    pub fn standing(&self) -> Standing {
        let past = |value: f64| value > self.limit.value * (1.0 + SLACK);
        let more = self.more.unwrap_or(0.0);
        if self.now.value >= self.limit.value * (1.0 - SLACK) {
            Standing::Over
        } else if past(self.now.value + more) {
            Standing::During
        } else if self.now.at_least {
            Standing::Unknown
        } else if self.more.is_none() {
            Standing::Unplanned
        } else if more > 0.0 && past(self.now.value + 2.0 * more) {
            Standing::Soon
        } else {
            Standing::Within
        }
    }

    /// How soon, in multiples of what is planned; the least is the limit that comes first.
    #[must_use]
    pub fn plans_left(&self) -> f64 {
        match self.more {
            Some(more) if more > 0.0 => self.left() / more,
            _ if self.left() > 0.0 => f64::MAX,
            _ => 0.0,
        }
    }
}

/// Every limit of a life, the one that comes first in front. `today` and `end` are the dates between which the plan lies.
#[must_use]
pub fn reaches(book: &Book, life: &Life, plan: &CarPlan, today: Date, end: Date) -> Vec<Reach> {
    let (limits, _) = book.limits(life.part);
    let mut all: Vec<Reach> =
        limits.iter().map(|limit| reach(book, life, plan, *limit, today, end)).collect();
    all.sort_by(|a, b| a.standing().cmp(&b.standing()).then(a.plans_left().total_cmp(&b.plans_left())));
    all
}

fn reach(book: &Book, life: &Life, plan: &CarPlan, limit: Amount, today: Date, end: Date) -> Reach {
    if limit.clock != Clock::Months {
        return Reach { limit, now: life.on(book, limit.clock), more: plan.expected(limit.clock) };
    }
    // Calendar time runs from the day it was fitted, on the shelf or off it, with what it had before.
    let stated = life.on(book, Clock::Months);
    let known = stated.before.is_some() && life.first.is_some();
    let value = stated.before.unwrap_or(0.0) + life.first.map_or(0.0, |first| months(first, today).max(0.0));
    Reach {
        limit,
        now: Lived { value, before: stated.before, at_least: !known },
        more: Some(months(today, end).max(0.0)),
    }
}
