//! Student's t: how many standard uncertainties a 95 % interval is wide when there are few repeats.
//!
//! JCGM 100:2008 (GUM), annex G. Pure functions.

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

/// The regularised incomplete beta function of x with shape (first, second), by its continued fraction (Abramowitz & Stegun
/// 26.5.8).
fn incomplete_beta(x: f64, first: f64, second: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    if x > (first + 1.0) / (first + second + 2.0) {
        return 1.0 - incomplete_beta(1.0 - x, second, first);
    }
    let front = libm::exp(
        libm::lgamma(first + second) - libm::lgamma(first) - libm::lgamma(second)
            + first * libm::log(x)
            + second * libm::log1p(-x),
    );
    front * continued(x, first, second) / first
}

/// The continued fraction, run forward in Lentz's way.
fn continued(x: f64, first: f64, second: f64) -> f64 {
    let safe = |value: f64| if value.abs() < 1e-300 { 1e-300 } else { value };
    let mut above = 1.0;
    let mut below = 1.0 / safe(1.0 - (first + second) * x / (first + 1.0));
    let mut fraction = below;
    for step in 1..500 {
        let m = f64::from(step);
        let even = m * (second - m) * x / ((first + 2.0 * m - 1.0) * (first + 2.0 * m));
        below = 1.0 / safe(1.0 + even * below);
        above = safe(1.0 + even / above);
        fraction *= below * above;
        let odd = -(first + m) * (first + second + m) * x / ((first + 2.0 * m) * (first + 2.0 * m + 1.0));
        below = 1.0 / safe(1.0 + odd * below);
        above = safe(1.0 + odd / above);
        let change = below * above;
        fraction *= change;
        if (change - 1.0).abs() < 1e-16 {
            break;
        }
    }
    fraction
}
