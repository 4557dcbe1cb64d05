//! The one sum of the likelihood that depends on both the data and the shape, in one pass for each shape tried.
//!
//! S(b) = sum over the lives of exit^b - entry^b, with all lives divided by the longest one so that no power overflows.

use crate::statistics::observation::Observation;

/// What the likelihood needs of the lives.
#[derive(Debug, Clone)]
pub(super) struct Sums {
    /// ln(exit/longest) of each different life from new, and how many were of it.
    whole: Vec<(f64, f64)>,
    /// ln(exit/longest) and ln(exit/entry) of each life entered late.
    late: Vec<(f64, f64)>,
    /// ln of the longest life.
    pub longest: f64,
    /// Failures.
    pub failures: f64,
    /// Sum over failures of ln(life/longest).
    pub failed: f64,
}

/// S and its first two derivatives by the shape.
#[derive(Debug, Clone, Copy)]
pub(super) struct Powers {
    pub sum: f64,
    pub first: f64,
    pub second: f64,
}

impl Sums {
    /// Of lives sorted by exit, at least one.
    pub fn of(lives: &[Observation]) -> Self {
        let longest = lives.last().map_or(0.0, |life| libm::log(life.exit));
        let mut whole: Vec<(f64, f64)> = Vec::new();
        let mut late = Vec::new();
        let (mut failures, mut failed) = (0.0, 0.0);
        for life in lives {
            let log = libm::log(life.exit) - longest;
            if life.failed() {
                failures += 1.0;
                failed += log;
            }
            if life.entry > 0.0 {
                // By log1p: an entry just before the exit keeps its digits.
                late.push((log, libm::log1p((life.exit - life.entry) / life.entry)));
            } else if let Some(same) = whole.last_mut().filter(|same| same.0 >= log) {
                same.1 += 1.0;
            } else {
                whole.push((log, 1.0));
            }
        }
        Self { whole, late, longest, failures, failed }
    }

    /// One pass.
    pub fn powers(&self, shape: f64) -> Powers {
        let (mut sum, mut first, mut second) = (0.0, 0.0, 0.0);
        for &(log, count) in &self.whole {
            let power = count * libm::exp(shape * log);
            sum += power;
            first += power * log;
            second += power * log * log;
        }
        for &(log, span) in &self.late {
            let power = libm::exp(shape * log);
            let kept = -libm::expm1(-shape * span); // 1 - (entry/exit)^shape
            let entered = log - span;
            sum += power * kept;
            first += power * (log * kept + (1.0 - kept) * span);
            second += power * (log * log * kept + (1.0 - kept) * span * (log + entered));
        }
        Powers { sum, first, second }
    }

    /// The log-likelihood of that shape with the scale at its best, and its slope and curvature by ln shape.
    pub fn profile(&self, shape: f64) -> (f64, f64, f64) {
        let Powers { sum, first, second } = self.powers(shape);
        let ratio = first / sum;
        let slope = self.failures / shape - self.failures * ratio + self.failed;
        let curvature = -self.failures / (shape * shape) - self.failures * (second / sum - ratio * ratio);
        (self.best(shape, libm::log(sum)), shape * slope, shape * shape * curvature + shape * slope)
    }

    /// The log-likelihood at that shape and the scale best for it, from ln S.
    pub fn best(&self, shape: f64, log_sum: f64) -> f64 {
        let failures = self.failures;
        failures * (libm::log(shape) - log_sum + libm::log(failures) - 1.0) + (shape - 1.0) * self.failed
            - failures * self.longest
    }

    /// ln of the scale best for that shape, from ln S.
    pub fn log_scale(&self, shape: f64, log_sum: f64) -> f64 {
        self.longest + (log_sum - libm::log(self.failures)) / shape
    }
}
