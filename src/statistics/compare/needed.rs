//! How much longer the second kind must run without a failure before it can be called the better.

use super::NoTest;
use super::log_rank::{self, Sums, pair};
use super::permutation::Scores;
use crate::statistics::observation::{End, Observation};
use crate::statistics::risk::Watched;

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
/// to `significance` or less with the second kind the better. The p changes only where one of those lives reaches an age at
/// which something failed, so only those amounts are tried, least first. The p is that of [`super::test()`].
///
/// # Errors
/// A list with an unusable life, or with none.
pub fn needed(first: &[Observation], second: &[Observation], significance: f64) -> Result<Needed, NoTest> {
    let (first, second) = pair(first, second)?;
    if better(&first, &second, significance) {
        return Ok(Needed::Already);
    }
    let all = [&first[..], &second[..]].concat();
    let both = Watched::of(&all);
    // Each running life with each age of failure still before it: the amount, and which age.
    let running = second.iter().filter(|life| life.end == End::Running);
    let mut reached: Vec<(f64, usize)> = running
        .flat_map(|life| {
            let ages = both.failures.iter().enumerate().filter(|(_, (age, _))| *age > life.exit);
            ages.map(|(place, (age, _))| (age - life.exit, place))
        })
        .collect();
    reached.sort_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)));
    // Neither late entry nor the number of splits changes with more running. By chi-squared the sums follow each life as it
    // comes to be at risk at one more age; whole tests are only for the amounts that these let through.
    let mut sums = Sums::of(&both, &Watched::of(&second));
    let counted = Scores::of(&first, &second).approximate().is_none();
    for same in reached.chunk_by(|one, other| one.0 >= other.0) {
        for (_, place) in same {
            sums.one_more_of_second(*place);
        }
        let Some((more, _)) = same.first() else { continue };
        let likely = counted || sums.numbers().is_some_and(|numbers| numbers.p <= significance * 1.001);
        if likely && better(&first, &extended(&second, *more), significance) {
            return Ok(Needed::Amount(*more));
        }
    }
    Ok(Needed::NotWithin(3.0 * both.exits.last().copied().unwrap_or(0.0)))
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
