//! The one way of rounding: half away from zero, done once, from the exact quotient.
//!
//! ISO 80000-1, annex B, allows the even digit or the greater magnitude at a tie; invoices take the greater (common
//! practice). Must not know currencies.

use rust_decimal::Decimal;

/// `value` with so many decimals, half away from zero.
#[must_use]
pub fn to(value: Decimal, decimals: u32) -> Decimal {
    let mut rounded =
        value.round_dp_with_strategy(decimals, rust_decimal::RoundingStrategy::MidpointAwayFromZero);
    rounded.rescale(decimals);
    rounded
}

/// `value / by` with so many decimals, rounded once from the exact fraction; `None` for a division by zero or numbers too
/// long to hold.
#[must_use]
pub fn quotient(value: Decimal, by: Decimal, decimals: u32) -> Option<Decimal> {
    scaled(value, Decimal::ONE, by, decimals)
}

/// `value * times / over` with so many decimals, rounded once from the exact fraction; `None` for a division by zero or
/// numbers too long to hold.
#[must_use]
pub fn scaled(value: Decimal, times: Decimal, over: Decimal, decimals: u32) -> Option<Decimal> {
    let (value, times, over) = (value.normalize(), times.normalize(), over.normalize());
    let mut top = value.mantissa().checked_mul(times.mantissa())?;
    let mut bottom = over.mantissa();
    let up =
        i64::from(over.scale()) + i64::from(decimals) - i64::from(value.scale()) - i64::from(times.scale());
    let power = 10_i128.checked_pow(u32::try_from(up.unsigned_abs()).ok()?)?;
    if up >= 0 {
        top = top.checked_mul(power)?;
    } else {
        bottom = bottom.checked_mul(power)?;
    }
    whole(top, bottom).and_then(|whole| Decimal::try_from_i128_with_scale(whole, decimals).ok())
}

/// `top / bottom` to the nearest whole number, half away from zero.
fn whole(top: i128, bottom: i128) -> Option<i128> {
    let quotient = top.checked_div(bottom)?;
    let rest = top.checked_rem(bottom)?;
    let up = rest.unsigned_abs().checked_mul(2)? >= bottom.unsigned_abs();
    let sign = if (top < 0) == (bottom < 0) { 1 } else { -1 };
    if up { quotient.checked_add(sign) } else { Some(quotient) }
}
