//! Exchange rates, each with the day from which it counts.
//!
//! A rate is the shop's own statement; none is ever guessed. Must not know what is exchanged.

use super::amount::Amount;
use super::currency::Currency;
use super::round;
use jiff::civil::Date;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// One rate: from that day on, one `from` is worth `rate` of `to`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rate {
    /// What is exchanged.
    pub from: Currency,
    /// What for.
    pub to: Currency,
    /// How much of it for one.
    pub rate: Decimal,
    /// First day.
    pub since: Date,
}

/// Rates of each pair of currencies, either way round, in the order of their days.
#[derive(Debug, Clone, Default)]
pub struct Rates {
    of: BTreeMap<(Currency, Currency), Vec<Rate>>,
}

fn pair(a: Currency, b: Currency) -> (Currency, Currency) {
    (a.min(b), a.max(b))
}

impl Rates {
    /// Rates in any order; of two for one pair and day the later in the list counts.
    #[must_use]
    pub fn new(mut all: Vec<Rate>) -> Self {
        all.sort_by_key(|rate| rate.since);
        let mut of: BTreeMap<_, Vec<Rate>> = BTreeMap::new();
        for rate in all {
            of.entry(pair(rate.from, rate.to)).or_default().push(rate);
        }
        Self { of }
    }

    /// The amount in another currency by the rate in force that day, stated either way round; rounded once. `None` where
    /// no rate is in force.
    #[must_use]
    pub fn convert(&self, amount: Amount, to: Currency, day: Date) -> Option<(Amount, Rate)> {
        let known = self.of.get(&pair(amount.currency, to))?;
        let next = known.partition_point(|rate| rate.since <= day);
        let rate = *known.get(next.checked_sub(1)?)?;
        let decimals = to.decimals();
        let value = if rate.from == amount.currency {
            round::scaled(amount.value, rate.rate, Decimal::ONE, decimals)
        } else {
            round::quotient(amount.value, rate.rate, decimals)
        };
        Some((Amount { value: value?, currency: to }, rate))
    }
}
