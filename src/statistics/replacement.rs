//! When to replace by age, and what a kind of part costs to run.
//!
//! Barlow & Proschan, *Mathematical Theory of Reliability* (1965), chapters 3 and 4 (from memory). Costs are in any one money, rates in that
//! money for each unit of time.

use super::gamma::lower;
use super::root::bisect;
use super::weibull::Weibull;

/// The best age to replace at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Optimum {
    /// Replace at this age, if it has not failed before.
    pub age: f64,
    /// What that costs for each unit of time.
    pub rate: f64,
    /// What running each to failure costs for each unit of time.
    pub to_failure: f64,
}

/// The integral of the share still good, from new to that age: the mean time in use of one replaced at that age.
#[must_use]
pub fn time_in_use(life: &Weibull, age: f64) -> f64 {
    let part = lower(1.0 / life.shape, life.cumulative_hazard(age)).unwrap_or(1.0);
    life.mean() * part
}

/// What replacing at that age costs for each unit of time, when a replacement planned costs `planned` and a failure `failure`
/// in all: [planned R + failure F]/integral of R. `None` for an age not above 0 or a cost below 0.
#[must_use]
pub fn rate(life: &Weibull, age: f64, planned: f64, failure: f64) -> Option<f64> {
    let usable = age > 0.0 && planned >= 0.0 && failure >= 0.0;
    let rate = (planned * life.survival(age) + failure * life.failed(age)) / time_in_use(life, age);
    Some(rate).filter(|rate| usable && rate.is_finite())
}

/// What running each to failure costs for each unit of time.
#[must_use]
pub fn rate_to_failure(life: &Weibull, failure: f64) -> f64 {
    failure / life.mean()
}

/// The age at which replacing costs least. `None` where no age beats running to failure: a shape of 1 or less (a new one is no
/// better than an old one), a planned replacement no cheaper than a failure, or free; or where the age is one that not one
/// life in a million reaches.
#[must_use]
pub fn optimum(life: &Weibull, planned: f64, failure: f64) -> Option<Optimum> {
    if !(life.shape > 1.0 && planned > 0.0 && failure > planned && failure.is_finite()) {
        return None;
    }
    let wanted = planned / (failure - planned);
    // hazard x integral of R - F rises with age from 0; in units of cumulative hazard, to one in a million.
    let age_at = |hazard: f64| life.scale * libm::exp(libm::log(hazard) / life.shape);
    let short = |age: f64| life.hazard(age) * time_in_use(life, age) - life.failed(age) < wanted;
    let far = age_at(13.8);
    if short(far) {
        return None;
    }
    let age = bisect(0.0, far, short);
    Some(Optimum {
        age,
        rate: rate(life, age, planned, failure)?,
        to_failure: rate_to_failure(life, failure),
    })
}

/// The age to renew at when a failure between is only mended, which leaves the part as old as it was: scale x
/// (planned/(mend (shape - 1)))^(1/shape) (Barlow & Hunter, Operations Research 8 (1960) 90). `None` for a shape of 1 or less
/// or a cost not above 0.
#[must_use]
pub fn minimal_repair(life: &Weibull, planned: f64, mend: f64) -> Option<f64> {
    let ratio = planned / (mend * (life.shape - 1.0));
    let usable = life.shape > 1.0 && planned > 0.0 && mend > 0.0 && ratio.is_finite();
    usable.then(|| life.scale * libm::exp(libm::log(ratio) / life.shape)).filter(|age| age.is_finite())
}

/// What a kind costs for each unit of time when each life takes one at `price` and ends with `extra` (the work, the lost
/// session) after `life` on average. `None` for a life not above 0.
#[must_use]
pub fn running_cost(price: f64, extra: f64, life: f64) -> Option<f64> {
    (life > 0.0).then(|| (price + extra) / life).filter(|rate| rate.is_finite())
}

/// The mean life at which another kind, at `price` with `extra` at the end of each life, costs the same as `rate`: its
/// break-even. With `extra` 0 it is for one pulled in good time. `None` for a rate not above 0.
#[must_use]
pub fn break_even_life(rate: f64, price: f64, extra: f64) -> Option<f64> {
    (rate > 0.0).then(|| (price + extra) / rate).filter(|life| life.is_finite())
}
