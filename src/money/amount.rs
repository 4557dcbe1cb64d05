//! An amount of money: an exact decimal and its currency.
//!
//! Two currencies never mix: a sum of both is `None`. Must not know who pays.

use super::currency::Currency;
use super::round;
use rust_decimal::Decimal;

/// An amount, exact.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Amount {
    /// As typed, decimals kept.
    pub value: Decimal,
    /// Its currency.
    pub currency: Currency,
}

/// Sums of this size and above are slips: larger than any that a shop books, and small enough that a million of them add
/// up exactly.
const MOST: u64 = 1_000_000_000_000;

/// Why a typed sum is none.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Slip {
    /// Not a plain decimal number, or longer than a sum can be.
    Number,
    /// Below zero.
    Negative,
    /// More decimals than the currency has.
    TooFine(Currency),
}

/// More decimals than these are a slip: no currency has more than four, and rates are quoted to six.
const MOST_DECIMALS: u32 = 6;

/// A plain decimal number as typed, with its sign.
///
/// # Errors
/// When it is none, or too long to be meant.
pub fn decimal(text: &str) -> Result<Decimal, Slip> {
    let plain = text.strip_prefix('\u{2212}').map(|rest| format!("-{rest}"));
    let typed = plain.as_deref().unwrap_or(text);
    let body = typed.strip_prefix(['-', '+']).unwrap_or(typed);
    if !body.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.') {
        return Err(Slip::Number);
    }
    let value = Decimal::from_str_exact(typed).map_err(|_| Slip::Number)?;
    if value.abs() >= Decimal::from(MOST) || value.scale() > MOST_DECIMALS {
        Err(Slip::Number)
    } else {
        Ok(value)
    }
}

impl Amount {
    /// No money.
    #[must_use]
    pub const fn zero(currency: Currency) -> Self {
        Self { value: Decimal::ZERO, currency }
    }

    /// A rate or a price of one as typed: not below zero, as fine as it was agreed.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn read_rate(number: &str, currency: Currency) -> Result<Self, Slip> {
        let value = decimal(number)?;
        if value.is_sign_negative() && !value.is_zero() {
            return Err(Slip::Negative);
        }
        Ok(Self { value, currency })
    }

    /// A sum as typed: not below zero, no finer than the currency's minor unit.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn read(number: &str, currency: Currency) -> Result<Self, Slip> {
        let sum = Self::read_rate(number, currency)?;
        if sum.value.normalize().scale() > currency.decimals() {
            return Err(Slip::TooFine(currency));
        }
        Ok(sum)
    }

    /// So many minor units; `None` where they are too many to hold.
    #[must_use]
    pub fn of_minor(units: i128, currency: Currency) -> Option<Self> {
        let value = Decimal::try_from_i128_with_scale(units, currency.decimals()).ok()?;
        Some(Self { value, currency })
    }

    /// How many minor units it is; `None` where it is finer than those.
    #[must_use]
    pub fn minor(self) -> Option<i128> {
        let value = self.value.normalize();
        let up = self.currency.decimals().checked_sub(value.scale())?;
        value.mantissa().checked_mul(10_i128.checked_pow(up)?)
    }

    /// The sum; `None` for two currencies or more digits than can be held.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        if self.currency != other.currency {
            return None;
        }
        let value = self.value.checked_add(other.value)?;
        Some(Self { value, currency: self.currency })
    }

    /// With the other sign.
    #[must_use]
    pub fn negated(self) -> Self {
        Self { value: -self.value, currency: self.currency }
    }

    /// Times one number, divided by another, and rounded once to the minor unit.
    #[must_use]
    pub fn scaled(self, times: Decimal, over: Decimal) -> Option<Self> {
        let value = round::scaled(self.value, times, over, self.currency.decimals())?;
        Some(Self { value, currency: self.currency })
    }

    /// The number alone, with the currency's decimals: `2943.90`, `-25.00`.
    #[must_use]
    pub fn digits(self) -> String {
        let value = round::to(self.value, self.currency.decimals());
        if value.is_zero() { value.abs().to_string() } else { value.to_string() }
    }
}

impl std::fmt::Display for Amount {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}", self.digits(), self.currency)
    }
}
