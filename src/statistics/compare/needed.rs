//! How much longer the second kind must run without a failure before it can be called the better.

use super::NoTest;
use super::log_rank::{self, pair};
use super::permutation::Scores;
use crate::statistics::observation::{End, Observation};

/// How much more running is needed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Needed {
    /// None: it is better already.
    Already,
    /// So much more on each that still runs, if none of them fails.
    Amount(f64),
    /// No amount within this (three times the longest life seen), and so none at all: past the last age at which something
    /// failed, more running of these lives changes nothing. It takes more lives.
    NotWithin(f64),
}

/// The least equal, failure-free further running of every life of the second kind that still runs, that brings the two-sided p
/// to `significance` or less with the second kind the better. The p changes only where one of those lives passes an age at
/// which something failed, so only those amounts are tried, least first. The p is that of [`super::test()`].
///
/// # Errors
/// A list with an unusable life, or with none.
pub fn needed(first: &[Observation], second: &[Observation], significance: f64) -> Result<Needed, NoTest> {
    let (first, second) = pair(first, second)?;
    if better(&first, &second, significance) {
        return Ok(Needed::Already);
    }
    let lives = || first.iter().chain(&second);
    let limit = 3.0 * lives().map(|life| life.exit).fold(0.0, f64::max);
    let mut amounts: Vec<f64> = second
        .iter()
        .filter(|life| life.end == End::Running)
        .flat_map(|running| {
            let failed = lives().filter(|life| life.failed() && life.exit > running.exit);
            failed.map(|life| life.exit - running.exit)
        })
        .collect();
    amounts.sort_by(f64::total_cmp);
    amounts.dedup();
    let found = amounts.into_iter().find(|more| better(&first, &extended(&second, *more), significance));
    Ok(found.map_or(Needed::NotWithin(limit), Needed::Amount))
}

/// The same lives with each running one longer; a hair more, so that it does reach the age it was to reach.
fn extended(lives: &[Observation], more: f64) -> Vec<Observation> {
    let longer = |life: &Observation| match life.end {
        End::Running => Observation { exit: (life.exit + more) * (1.0 + 1e-12), ..*life },
        End::Failed | End::Pulled => *life,
    };
    lives.iter().map(longer).collect()
}

/// Whether the second kind is the better at that significance: fewer failures than expected, and a p as small. By chi-squared,
/// only where not even the most uneven split of so few lives would be too common.
fn better(first: &[Observation], second: &[Observation], significance: f64) -> bool {
    let Ok(numbers) = log_rank::of(first, second) else { return false };
    if numbers.observed >= numbers.expected {
        return false;
    }
    let scores = Scores::of(first, second);
    if scores.approximate().is_some() {
        return numbers.p <= significance && scores.smallest().is_none_or(|least| least <= significance);
    }
    let allowed = (significance * scores.splits as f64 * (1.0 + 1e-12)) as u64;
    scores.uneven(scores.seen.abs(), allowed) <= allowed
}
