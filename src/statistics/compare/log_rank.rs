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
    let mut all = first.to_vec();
    all.extend_from_slice(second);
    let (both, second) = (Watched::of(&all), Watched::of(second));
    if both.failures.is_empty() {
        return Err(NoTest::NoFailures);
    }
    let (mut observed, mut expected, mut variance) = (0.0, 0.0, 0.0);
    for &(age, failed) in &both.failures {
        let (risk, failed) = (both.at_risk(age) as f64, failed as f64);
        let share = second.at_risk(age) as f64 / risk;
        observed += second.failed_at(age) as f64;
        expected += failed * share;
        if risk > 1.0 {
            variance += failed * share * (1.0 - share) * (risk - failed) / (risk - 1.0);
        }
    }
    if variance <= 0.0 {
        return Err(NoTest::NeverTogether);
    }
    let chi_squared = (observed - expected) * (observed - expected) / variance;
    Ok(LogRank { observed, expected, variance, chi_squared, p: chi_squared_tail(chi_squared) })
}
