//! Counts of things that happen at a constant rate.

use super::gamma::upper;
use super::root::bisect;

/// The chance of at most `count` when `mean` are expected. `None` for a mean below 0 or not finite.
#[must_use]
pub fn at_most(count: u32, mean: f64) -> Option<f64> {
    upper(f64::from(count) + 1.0, mean)
}

/// The smallest number of spares that is enough with that confidence when `mean` are expected to be used. `None` outside
/// 0 < confidence < 1, or for a mean below 0 or above a million. Poisson overstates the need for parts that wear out: see
/// [`super::renewal`].
#[must_use]
pub fn spares(mean: f64, confidence: f64) -> Option<u32> {
    if !(confidence > 0.0 && confidence < 1.0 && (0.0..=1e6).contains(&mean)) {
        return None;
    }
    // `top` is enough; `least` walks up to it in halves.
    let enough = |count: u32| at_most(count, mean).is_some_and(|chance| chance >= confidence);
    let mut top = 1;
    while !enough(top) {
        top *= 2;
        if top > 1 << 24 {
            return None;
        }
    }
    let mut least = 0;
    while least < top {
        let middle = u32::midpoint(least, top);
        if enough(middle) { top = middle } else { least = middle + 1 }
    }
    Some(least)
}

/// The greatest mean that is still believable, with that one-sided confidence, after `count` were seen: half of chi-squared's
/// quantile at 2 count + 2 degrees of freedom (NIST/SEMATECH e-Handbook 8.4.5.1). `None` outside 0 < confidence < 1.
#[must_use]
pub fn mean_at_most(count: u32, confidence: f64) -> Option<f64> {
    if !(confidence > 0.0 && confidence < 1.0) {
        return None;
    }
    if count == 0 {
        return Some(-libm::log1p(-confidence));
    }
    // Beyond mean + 40 sqrt(mean) + 800 no double-precision confidence below 1 reaches.
    let start = f64::from(count) + 1.0;
    let far = start + 40.0 * start.sqrt() + 800.0;
    Some(bisect(0.0, far, |mean| at_most(count, mean).is_some_and(|chance| chance > 1.0 - confidence)))
}
