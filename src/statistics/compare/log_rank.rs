//! The log-rank test: failures of the second kind against those to expect were the two alike.
//!
//! Mantel, Cancer Chemotherapy Reports 50 (1966) 163-170; Peto & Peto, JRSS A 135 (1972) 185-207. With late entry a life is
//! at risk from its entry on.

use super::NoTest;
use crate::statistics::normal::chi_squared_tail;
use crate::statistics::observation::{Observation, sorted};
use crate::statistics::risk::Watched;

/// The test's numbers, for the second kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LogRank {
    /// Failures seen.
    pub observed: f64,
    /// Failures to expect were the two kinds alike.
    pub expected: f64,
    /// Variance of observed less expected (hypergeometric).
    pub variance: f64,
    /// (observed - expected)^2/variance.
    pub chi_squared: f64,
    /// Its two-sided p, by chi-squared with one degree of freedom: good for many lives only.
    pub p: f64,
}

/// Both kinds, usable and sorted.
pub(super) fn pair(
    first: &[Observation],
    second: &[Observation],
) -> Result<(Vec<Observation>, Vec<Observation>), NoTest> {
    Ok((sorted(first).map_err(NoTest::First)?, sorted(second).map_err(NoTest::Second)?))
}

/// Tests the second kind against the first.
///
/// # Errors
/// Why there is no test.
pub fn log_rank(first: &[Observation], second: &[Observation]) -> Result<LogRank, NoTest> {
    let (first, second) = pair(first, second)?;
    of(&first, &second)
}

pub(super) fn of(first: &[Observation], second: &[Observation]) -> Result<LogRank, NoTest> {
    let both = Watched::of(&[first, second].concat());
    if both.failures.is_empty() {
        return Err(NoTest::NoFailures);
    }
    Sums::of(&both, &Watched::of(second)).numbers().ok_or(NoTest::NeverTogether)
}

/// What the test adds up, age by age of failure.
pub(super) struct Sums {
    ages: Vec<Age>,
    observed: f64,
    expected: f64,
    variance: f64,
}

/// One age of failure.
#[derive(Clone, Copy)]
struct Age {
    failed: f64,
    risk: f64,
    risk_of_second: f64,
}

impl Age {
    /// Failures to expect of the second kind, and their variance.
    fn parts(self) -> (f64, f64) {
        let Self { failed, risk, risk_of_second } = self;
        let share = risk_of_second / risk;
        let spread = if risk > 1.0 { (risk - failed) / (risk - 1.0) } else { 0.0 };
        (failed * share, failed * share * (1.0 - share) * spread)
    }
}

impl Sums {
    pub fn of(both: &Watched, second: &Watched) -> Self {
        let mut sums = Self { ages: Vec::new(), observed: 0.0, expected: 0.0, variance: 0.0 };
        for &(at, failed) in &both.failures {
            let age = Age {
                failed: failed as f64,
                risk: both.at_risk(at) as f64,
                risk_of_second: second.at_risk(at) as f64,
            };
            sums.observed += second.failed_at(at) as f64;
            sums.change(age.parts(), 1.0);
            sums.ages.push(age);
        }
        sums
    }

    fn change(&mut self, (expected, variance): (f64, f64), by: f64) {
        self.expected += by * expected;
        self.variance += by * variance;
    }

    /// One more life of the second kind was at risk at the age of that place.
    pub fn one_more_of_second(&mut self, place: usize) {
        let Some(age) = self.ages.get_mut(place) else { return };
        let before = *age;
        let after = Age { risk: before.risk + 1.0, risk_of_second: before.risk_of_second + 1.0, ..before };
        *age = after;
        self.change(before.parts(), -1.0);
        self.change(after.parts(), 1.0);
    }

    /// The test; `None` where there is no variance.
    pub fn numbers(&self) -> Option<LogRank> {
        let Self { observed, expected, variance, .. } = *self;
        let chi_squared = (observed - expected) * (observed - expected) / variance;
        let numbers = LogRank { observed, expected, variance, chi_squared, p: chi_squared_tail(chi_squared) };
        (variance > 0.0).then_some(numbers)
    }
}
