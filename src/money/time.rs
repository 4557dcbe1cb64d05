//! Working time: exact minutes, and what they cost at a rate an hour.
//!
//! Must not know who worked.

use super::amount::{Amount, Slip, decimal};
use super::round;
use rust_decimal::Decimal;

/// Minutes of work, exact: 2.25 h is 135.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Minutes(pub Decimal);

/// More work than this on one line is a slip: a year of days and nights.
const MOST: u32 = 527_040;

impl Minutes {
    /// Time as typed, in hours (or minutes): not below zero.
    ///
    /// # Errors
    /// What is wrong with the number.
    pub fn read(number: &str, in_hours: bool) -> Result<Self, Slip> {
        let typed = decimal(number)?;
        if typed.is_sign_negative() && !typed.is_zero() {
            return Err(Slip::Negative);
        }
        let minutes = if in_hours { typed.checked_mul(Decimal::from(60_u32)) } else { Some(typed) };
        minutes.filter(|minutes| *minutes <= Decimal::from(MOST)).map(Self).ok_or(Slip::Number)
    }

    /// Both together.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        self.0.checked_add(other.0).map(Self)
    }

    /// What it costs at a rate an hour, rounded once.
    #[must_use]
    pub fn at(self, rate: Amount) -> Option<Amount> {
        let value = self.0.checked_mul(rate.value)?;
        let value = round::quotient(value, Decimal::from(60_u32), rate.currency.decimals())?;
        Some(Amount { value, currency: rate.currency })
    }

    /// Hours with at most two decimals and at least one: `21.5`, `0.83`, `2.0`.
    #[must_use]
    pub fn hours(self) -> String {
        let Some(hours) = round::quotient(self.0, Decimal::from(60_u32), 2) else { return "?".to_owned() };
        let text = hours.to_string();
        text.strip_suffix('0').map_or(text.clone(), str::to_owned)
    }

    /// Whether it is no time at all.
    #[must_use]
    pub fn is_zero(self) -> bool {
        self.0.is_zero()
    }
}
