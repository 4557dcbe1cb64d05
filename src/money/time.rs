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
/// Finer than this is a slip too.
const MOST_DECIMALS: u32 = 6;

/// A ruler's fraction as typed, `2 1/4` or `3/4`: exact, as its lower number is a power of two.
fn fraction(top: &str, bottom: &str) -> Option<Decimal> {
    let bottom: u32 = bottom.parse().ok().filter(|bottom: &u32| bottom.is_power_of_two() && *bottom <= 64)?;
    let (whole, top) = top.rsplit_once([' ', '-']).unwrap_or(("0", top));
    let whole = decimal(whole.trim()).ok()?;
    let top: u32 = top.parse().ok()?;
    Decimal::from(top).checked_div(Decimal::from(bottom))?.checked_add(whole)
}

impl Minutes {
    /// Time as typed, in hours (or minutes): not below zero.
    ///
    /// # Errors
    /// What is wrong with the number.
    pub fn read(number: &str, in_hours: bool) -> Result<Self, Slip> {
        let typed = match number.rsplit_once('/') {
            Some((top, bottom)) => fraction(top, bottom).ok_or(Slip::Number)?,
            None => decimal(number)?,
        };
        if typed.is_sign_negative() && !typed.is_zero() {
            return Err(Slip::Negative);
        }
        let minutes = if in_hours { typed.checked_mul(Decimal::from(60_u32)) } else { Some(typed) };
        let kept = |minutes: &Decimal| *minutes <= Decimal::from(MOST) && minutes.scale() <= MOST_DECIMALS;
        minutes.filter(kept).map(Self).ok_or(Slip::Number)
    }

    /// Both together.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        self.0.checked_add(other.0).map(Self)
    }

    /// What it costs at a rate an hour, rounded once.
    #[must_use]
    pub fn at(self, rate: Amount) -> Option<Amount> {
        rate.scaled(self.0, Decimal::from(60_u32))
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
