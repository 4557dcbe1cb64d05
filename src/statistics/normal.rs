//! The normal distribution, and chi-squared with one degree of freedom, which is its square.

use super::root::bisect;

/// How many standard deviations to each side hold a share `level` of a normal distribution: 1.96 for 0.95. `None` outside
/// 0 < level < 1.
#[must_use]
pub fn two_sided(level: f64) -> Option<f64> {
    if !(level > 0.0 && level < 1.0) {
        return None;
    }
    // P(|Z| > z) = erfc(z/sqrt 2); past 40 it is 0 in double precision.
    Some(bisect(0.0, 40.0, |z| libm::erfc(z * std::f64::consts::FRAC_1_SQRT_2) > 1.0 - level))
}

/// The chance that chi-squared with one degree of freedom is at least that.
#[must_use]
pub fn chi_squared_tail(chi_squared: f64) -> f64 {
    libm::erfc((chi_squared.max(0.0) / 2.0).sqrt())
}
