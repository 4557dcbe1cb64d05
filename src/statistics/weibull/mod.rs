//! The Weibull life: the distribution itself, its fit by maximum likelihood, and the ranges its likelihood leaves.
//!
//! F(t) = 1 - exp(-(t/scale)^shape) (Weibull 1951; NIST/SEMATECH e-Handbook 8.1.6.2 and 8.4.1.3). A shape above 1 is wear, 1
//! is chance alone, below 1 is early trouble. All times are in the unit of the lives given.

mod chebyshev;
mod fit;
mod region;
mod sums;

pub use fit::{Fit, NoFit, fit};
pub use region::Region;

/// A Weibull distribution of life.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weibull {
    /// Shape: no unit.
    pub shape: f64,
    /// Scale: the life that 63.2 % do not reach.
    pub scale: f64,
}

impl Weibull {
    /// The cumulative hazard at that age: (age/scale)^shape.
    #[must_use]
    pub fn cumulative_hazard(&self, age: f64) -> f64 {
        if age <= 0.0 { 0.0 } else { libm::exp(self.shape * (libm::log(age) - libm::log(self.scale))) }
    }

    /// The share still good at that age.
    #[must_use]
    pub fn survival(&self, age: f64) -> f64 {
        libm::exp(-self.cumulative_hazard(age))
    }

    /// The share that has failed by that age.
    #[must_use]
    pub fn failed(&self, age: f64) -> f64 {
        -libm::expm1(-self.cumulative_hazard(age))
    }

    /// The rate of failing, for each unit of time, of one still good at that age above 0.
    #[must_use]
    pub fn hazard(&self, age: f64) -> f64 {
        self.shape / age * self.cumulative_hazard(age)
    }

    /// The age by which that share has failed: 0.1 gives B10. `None` outside 0 < share < 1.
    #[must_use]
    pub fn quantile(&self, share: f64) -> Option<f64> {
        (share > 0.0 && share < 1.0)
            .then(|| self.scale * libm::exp(libm::log(-libm::log1p(-share)) / self.shape))
    }

    /// The age by which half have failed.
    #[must_use]
    pub fn median(&self) -> f64 {
        self.scale * libm::exp(libm::log(std::f64::consts::LN_2) / self.shape)
    }

    /// The mean life: scale x Gamma(1 + 1/shape).
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.scale * libm::exp(libm::lgamma(1.0 + 1.0 / self.shape))
    }

    /// The standard deviation of life.
    #[must_use]
    pub fn deviation(&self) -> f64 {
        // mean^2 x (Gamma(1 + 2/shape)/Gamma(1 + 1/shape)^2 - 1), which keeps its digits at a large shape.
        let log = libm::lgamma(1.0 + 2.0 / self.shape) - 2.0 * libm::lgamma(1.0 + 1.0 / self.shape);
        self.mean() * libm::expm1(log).max(0.0).sqrt()
    }

    /// The chance that one still good at `age` fails within `more`: 1 - exp(-[((age + more)/scale)^shape -
    /// (age/scale)^shape]).
    #[must_use]
    pub fn conditional(&self, age: f64, more: f64) -> f64 {
        if more <= 0.0 {
            return 0.0;
        }
        let age = age.max(0.0);
        let after = self.cumulative_hazard(age + more);
        // What of it was already past at `age`, as a share, so that near ages keep their digits.
        let past = if age > 0.0 { self.shape * -libm::log1p(more / age) } else { f64::NEG_INFINITY };
        -libm::expm1(after * libm::expm1(past))
    }
}
