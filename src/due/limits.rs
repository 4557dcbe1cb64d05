//! How far a part is from the limits of its life, now and after what is planned.
//!
//! Must not know statistics.

use super::plan::CarPlan;
use crate::book::Book;
use crate::book::model::{Clock, LifeAmount};
use crate::history::tally::months;
use crate::lives::Life;
use crate::lives::life::Lived;
use jiff::civil::Date;

/// One limit of a part's life.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// The limit as declared.
    pub limit: LifeAmount,
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

/// Sums of shares are not exact: less than this share of a limit is none.
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

/// Every limit of a life, in the order they are stated. `today` and `end` are the dates between which the plan lies.
pub fn reaches(
    book: &Book,
    life: &Life,
    plan: &CarPlan,
    today: Date,
    end: Date,
) -> impl Iterator<Item = Reach> {
    let (limits, _) = book.limits(life.part);
    limits.iter().map(move |limit| reach(book, life, plan, *limit, today, end))
}

/// The same, the one that comes first in front.
#[must_use]
pub fn in_turn(book: &Book, life: &Life, plan: &CarPlan, today: Date, end: Date) -> Vec<Reach> {
    let mut all: Vec<Reach> = reaches(book, life, plan, today, end).collect();
    all.sort_by(|a, b| a.standing().cmp(&b.standing()).then(a.plans_left().total_cmp(&b.plans_left())));
    all
}

/// Every limit of a life as it stands on a date, whatever is planned; the one of which the least share is left in front.
#[must_use]
pub fn standing(book: &Book, life: &Life, today: Date) -> Vec<Reach> {
    let (limits, _) = book.limits(life.part);
    let mut all: Vec<Reach> = limits
        .iter()
        .map(|limit| Reach { limit: *limit, now: lived(book, life, limit.clock, today), more: None })
        .collect();
    let share = |reach: &Reach| if reach.limit.value > 0.0 { reach.left() / reach.limit.value } else { 0.0 };
    all.sort_by(|a, b| share(a).total_cmp(&share(b)));
    all
}

fn reach(book: &Book, life: &Life, plan: &CarPlan, limit: LifeAmount, today: Date, end: Date) -> Reach {
    let more = match limit.clock {
        Clock::Months => Some(months(today, end).max(0.0)),
        clock => plan.expected(clock),
    };
    Reach { limit, now: lived(book, life, limit.clock, today), more }
}

/// How much of a limit's clock a life has on a date.
fn lived(book: &Book, life: &Life, clock: Clock, today: Date) -> Lived {
    let lived = life.on(book, clock);
    if clock != Clock::Months {
        return lived;
    }
    // Calendar time runs from the day it was fitted, on the shelf or off it, with what it had before.
    let known = lived.before.is_some() && life.first.is_some();
    let value = lived.before.unwrap_or(0.0) + life.first.map_or(0.0, |first| months(first, today).max(0.0));
    Lived { value, before: lived.before, at_least: !known }
}
