//! Shape and scale by maximum likelihood, with lives that have not failed and lives entered late.
//!
//! With r failures, shape b and scale n: ln L = r ln b - r b ln n + (b - 1) sum over failures of ln t - [sum exit^b - sum
//! entry^b]/n^b. At a given shape the best scale is closed: n^b = [sum exit^b - sum entry^b]/r. What is left is concave in
//! the shape, since [sum exit^b - sum entry^b]/b is the integral of (number at risk at u) u^(b-1), whose logarithm is convex
//! in b; so there is one maximum or none.

use super::Weibull;
use super::sums::Sums;
use crate::statistics::observation::{Observation, Why, sorted};

/// The shapes looked at. Below, a scale and a mean overflow; above, lives are the same to the fifth figure.
pub(super) const SHAPES: (f64, f64) = (0.05, 1e5);

/// A fit: the most likely Weibull, and what is needed for its ranges.
#[derive(Debug, Clone)]
pub struct Fit {
    /// The most likely shape and scale.
    pub life: Weibull,
    /// The natural logarithm of its likelihood (density in the unit of the lives).
    pub log_likelihood: f64,
    /// How many lives.
    pub lives: usize,
    /// How many failed.
    pub failures: usize,
    /// What the likelihood is made of.
    pub(super) sums: Sums,
}

/// Why no Weibull can be fitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum NoFit {
    /// A life is unusable.
    Unusable(Why),
    /// Nothing failed: see [`crate::statistics::bounds`].
    NoFailures,
    /// One failed and nothing else ran as long: the likelihood rises without end as the shape does.
    OneFailure,
    /// All failures came at one age and nothing ran longer: the likelihood rises without end as the shape does.
    FailedTogether,
    /// All entered late, and the likelihood still rises as the shape falls towards 0.
    ShapeTowardsZero,
    /// The most likely shape lies outside 0.05 to 100 000, or its scale or mean is past 1e100.
    OutOfReach,
}

impl std::ops::Deref for Fit {
    type Target = Weibull;
    fn deref(&self) -> &Weibull {
        &self.life
    }
}

/// Fits those lives.
///
/// # Errors
/// Why there is no most likely Weibull, or none in reach.
pub fn fit(lives: &[Observation]) -> Result<Fit, NoFit> {
    let lives = sorted(lives).map_err(NoFit::Unusable)?;
    let failures = lives.iter().filter(|life| life.failed()).count();
    let sums = Sums::of(&lives);
    match failures {
        0 => return Err(NoFit::NoFailures),
        _ if sums.failed < 0.0 => {}
        // Every failure is as long as the longest life.
        1 => return Err(NoFit::OneFailure),
        _ => return Err(NoFit::FailedTogether),
    }
    let (least, most) = SHAPES;
    if sums.profile(least).1 <= 0.0 {
        let late = lives.iter().all(|life| life.entry > 0.0);
        return Err(if late { NoFit::ShapeTowardsZero } else { NoFit::OutOfReach });
    }
    if sums.profile(most).1 >= 0.0 {
        return Err(NoFit::OutOfReach);
    }
    let shape = top(&sums);
    let log_sum = libm::log(sums.powers(shape).sum);
    let log_scale = sums.log_scale(shape, log_sum);
    let life = Weibull { shape, scale: libm::exp(log_scale) };
    if !(log_scale.abs() < 230.0 && life.mean() < 1e100) {
        return Err(NoFit::OutOfReach);
    }
    let log_likelihood = sums.best(shape, log_sum);
    Ok(Fit { life, log_likelihood, lives: lives.len(), failures, sums })
}

/// The shape at which the profile likelihood turns: Newton's way on its slope by ln shape, halving where that strays.
fn top(sums: &Sums) -> f64 {
    let (mut low, mut high) = (libm::log(SHAPES.0), libm::log(SHAPES.1));
    let mut at = 0.0;
    for _ in 0..100 {
        let (_, slope, curvature) = sums.profile(libm::exp(at));
        if slope > 0.0 {
            low = at;
        } else {
            high = at;
        }
        let newton = at - slope / curvature;
        // Its error falls with the square: after so short a step there is none left.
        if (newton - at).abs() < 1e-10 {
            return libm::exp(newton);
        }
        at = if newton > low && newton < high { newton } else { f64::midpoint(low, high) };
    }
    libm::exp(at)
}
