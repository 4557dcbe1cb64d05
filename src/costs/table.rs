//! Totals of postings: by kind, and what they come to for the running.
//!
//! Must not know which postings, nor how they are shown.

use super::posting::{Kind, Posting};
use super::running::Running;
use crate::money::{Amount, Total};
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// A total and the postings it is made of.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Cell {
    /// The sum.
    pub total: Total,
    /// Places in [`super::Costs::postings`].
    pub postings: Vec<usize>,
}

/// Totals by kind, and of all.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Row {
    /// Kinds that something was booked under.
    pub kinds: BTreeMap<Kind, Cell>,
    /// All kinds together.
    pub all: Cell,
    /// What was spent on running: all kinds but prize money.
    pub spent: Total,
}

/// What a total comes to for the running; `None` where that is not known, or nothing ran.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Rates {
    /// A running hour.
    pub hour: Option<Amount>,
    /// A day with a session.
    pub day: Option<Amount>,
    /// A kilometre driven, at speed or on the road.
    pub kilometre: Option<Amount>,
    /// A mile.
    pub mile: Option<Amount>,
}

/// Adds up postings.
pub fn row<'a>(postings: impl Iterator<Item = (usize, &'a Posting)>) -> Row {
    let mut row = Row::default();
    for (at, posting) in postings {
        if posting.kind != Kind::Prize {
            posting.add_to(&mut row.spent);
        }
        for cell in [row.kinds.entry(posting.kind).or_default(), &mut row.all] {
            posting.add_to(&mut cell.total);
            cell.postings.push(at);
        }
    }
    row
}

/// Millimetres in a mile, exactly (NIST SP 811, B.8).
pub const MILE: u64 = 1_609_344;

/// What a sum comes to for the running, each rounded once.
#[must_use]
pub fn rates(sum: Amount, running: &Running) -> Rates {
    let per = |units: u64, amount: Option<u64>| {
        let amount = Decimal::from(amount?);
        if amount.is_zero() { None } else { sum.scaled(Decimal::from(units), amount) }
    };
    Rates {
        hour: per(3600, running.seconds),
        day: per(1, Some(running.days)),
        kilometre: per(1_000_000, running.millimetres),
        mile: per(MILE, running.millimetres),
    }
}
