//! The incomplete beta function, from which Student's t and the ratio of two variances have their shares.
//!
//! Pure functions.

/// The regularised incomplete beta function of x with shape (first, second), by its continued fraction (Abramowitz & Stegun
/// 26.5.8).
pub(super) fn incomplete_beta(x: f64, first: f64, second: f64) -> f64 {
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
