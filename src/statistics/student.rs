//! Student's t: how many standard uncertainties a 95 % interval is wide when there are few repeats.
//!
//! JCGM 100:2008 (GUM), annex G. Pure functions.

use super::beta::incomplete_beta;
use super::root::bisect;

/// Two-sided quantile of Student's t: the t that a share `p` of the distribution lies within, for `freedom` degrees of
/// freedom. `None` outside 0 < p < 1 or for no freedom.
#[must_use]
pub fn quantile(p: f64, freedom: f64) -> Option<f64> {
    if !(p > 0.0 && p < 1.0 && freedom > 0.0 && freedom.is_finite()) {
        return None;
    }
    // P(|T| > t) = I_x(v/2, 1/2), x = v / (v + t^2); bisection on t, where the probability falls without a turn.
    let outside = |t: f64| incomplete_beta(freedom / (freedom + t * t), freedom / 2.0, 0.5);
    let mut high = 1.0;
    while outside(high) > 1.0 - p {
        high *= 2.0;
        if high > 1e12 {
            return None;
        }
    }
    Some(bisect(0.0, high, |t| outside(t) > 1.0 - p))
}

/// The share of Student's t that lies further out than `t` on either side: the two-sided p of a test. `None` for no freedom, or
/// a `t` that is no number.
#[must_use]
pub fn outside(t: f64, freedom: f64) -> Option<f64> {
    let sound = t.is_finite() && freedom > 0.0 && freedom.is_finite();
    sound.then(|| incomplete_beta(freedom / (freedom + t * t), freedom / 2.0, 0.5))
}

/// Effective degrees of freedom of a sum of parts (Welch-Satterthwaite, GUM G.4.1); each part its uncertainty and its
/// freedom. `None` where nothing varies.
#[must_use]
pub fn effective_freedom(parts: &[(f64, f64)]) -> Option<f64> {
    let squares: f64 = parts.iter().map(|(u, _)| u * u).sum();
    let fourths: f64 = parts.iter().map(|(u, freedom)| u * u * u * u / freedom).sum();
    (fourths > 0.0 && fourths.is_finite()).then(|| squares * squares / fourths)
}
