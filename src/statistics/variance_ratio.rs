//! The ratio of two variances (F): whether one fit is better than another by more than chance.
//!
//! NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.6.5 and 1.3.5.9. Pure functions.

use super::beta::incomplete_beta;

/// The share of the ratio's distribution above `ratio`, of so many degrees of freedom above and below. `None` for no freedom, or a ratio
/// that is none.
#[must_use]
pub fn above(ratio: f64, over: f64, under: f64) -> Option<f64> {
    let counted = |freedom: f64| freedom > 0.0 && freedom.is_finite();
    let sound = ratio >= 0.0 && ratio.is_finite() && counted(over) && counted(under);
    sound.then(|| incomplete_beta(under / (under + over * ratio), under / 2.0, over / 2.0))
}
