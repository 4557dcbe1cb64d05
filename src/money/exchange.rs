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

/// A rate with a mistake in it: what of it can be read. From its day on, or at any time where that is not known, what the rate of its
/// currencies is nobody knows; of no currency that can be read, that of any.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LostRate {
    /// The currencies that stand in it.
    pub currencies: Vec<Currency>,
    /// First day.
    pub since: Option<Date>,
}

impl LostRate {
    /// What can be read of a line.
    #[must_use]
    pub fn of(line: &str) -> Self {
        let words = || line.split([' ', '\t', '"']);
        Self {
            currencies: words().filter_map(Currency::find).collect(),
            since: words().find_map(|word| word.parse().ok()),
        }
    }

    /// Whether it may be the rate of two currencies.
    fn may_be(&self, one: Currency, other: Currency) -> bool {
        self.currencies.iter().all(|currency| *currency == one || *currency == other)
    }
}

/// Rates of each pair of currencies, either way round, in the order of their days.
#[derive(Debug, Clone, Default)]
pub struct Rates {
    of: BTreeMap<(Currency, Currency), Vec<Rate>>,
    lost: Vec<LostRate>,
}

fn pair(a: Currency, b: Currency) -> (Currency, Currency) {
    (a.min(b), a.max(b))
}

impl Rates {
    /// Whether a rate of two currencies has a mistake.
    #[must_use]
    pub fn has_lost(&self, one: Currency, other: Currency) -> bool {
        self.lost.iter().any(|lost| lost.may_be(one, other))
    }

    /// Rates in any order; of two for one pair and day the later in the list counts.
    #[must_use]
    pub fn new(mut all: Vec<Rate>, lost: Vec<LostRate>) -> Self {
        all.sort_by_key(|rate| rate.since);
        let mut of: BTreeMap<_, Vec<Rate>> = BTreeMap::new();
        for rate in all {
            of.entry(pair(rate.from, rate.to)).or_default().push(rate);
        }
        Self { of, lost }
    }

    /// The amount in another currency by the rate in force that day, stated either way round; rounded once. `None` where
    /// no rate is in force.
    #[must_use]
    pub fn convert(&self, amount: Amount, to: Currency, day: Date) -> Option<(Amount, Rate)> {
        let known = self.of.get(&pair(amount.currency, to))?;
        let next = known.partition_point(|rate| rate.since <= day);
        let rate = *known.get(next.checked_sub(1)?)?;
        // One with a mistake may have taken its place by then.
        let newer = |lost: &LostRate| lost.since.is_none_or(|since| rate.since <= since && since <= day);
        if self.lost.iter().any(|lost| lost.may_be(amount.currency, to) && newer(lost)) {
            return None;
        }
        let decimals = to.decimals();
        let value = if rate.from == amount.currency {
            round::scaled(amount.value, rate.rate, Decimal::ONE, decimals)
        } else {
            round::quotient(amount.value, rate.rate, decimals)
        };
        Some((Amount { value: value?, currency: to }, rate))
    }
}
