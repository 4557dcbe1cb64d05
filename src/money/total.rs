//! A total: a sum for each currency, kept apart, and whether something in it is not known.
//!
//! Must not know what is added.

use super::amount::Amount;
use super::currency::Currency;
use super::time::Minutes;

/// A sum of lines.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Total {
    /// One amount a currency, in order of their codes.
    sums: Vec<Amount>,
    /// Working time that it charges for.
    pub minutes: Minutes,
    /// Working time that is counted and not charged.
    pub unbilled: Minutes,
    /// Something in it is not known, so that it is only "at least".
    pub at_least: bool,
    /// Something that came back is not known, so that it is only "at most".
    pub at_most: bool,
}

impl Total {
    /// Adds an amount.
    pub fn add(&mut self, amount: Amount) {
        let Some(known) = self.sums.iter_mut().find(|sum| sum.currency == amount.currency) else {
            let place = self.sums.partition_point(|sum| sum.currency < amount.currency);
            self.sums.insert(place, amount);
            return;
        };
        match known.plus(amount) {
            Some(sum) => *known = sum,
            None => self.at_least = true,
        }
    }

    /// Adds working time, charged or only counted.
    pub fn add_time(&mut self, minutes: Minutes, unbilled: bool) {
        let sum = if unbilled { &mut self.unbilled } else { &mut self.minutes };
        match sum.plus(minutes) {
            Some(more) => *sum = more,
            None => self.at_least = true,
        }
    }

    /// Adds another total.
    pub fn add_all(&mut self, other: &Self) {
        other.sums.iter().for_each(|sum| self.add(*sum));
        self.add_time(other.minutes, false);
        self.add_time(other.unbilled, true);
        self.at_least |= other.at_least;
        self.at_most |= other.at_most;
    }

    /// The sums, one a currency.
    #[must_use]
    pub fn sums(&self) -> &[Amount] {
        &self.sums
    }

    /// The sum in that currency; nothing booked in it is no money.
    #[must_use]
    pub fn of(&self, currency: Currency) -> Amount {
        let known = self.sums.iter().find(|sum| sum.currency == currency);
        known.copied().unwrap_or(Amount::zero(currency))
    }

    /// Whether everything in it is known.
    #[must_use]
    pub const fn is_known(&self) -> bool {
        !(self.at_least || self.at_most)
    }

    /// Whether there is nothing in it at all.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.sums.is_empty() && self.minutes.is_zero() && self.unbilled.is_zero() && self.is_known()
    }
}
