//! The exact test: how many ways of dealing the lives to the two kinds are as uneven as the one seen.
//!
//! Observed less expected is a sum over the second kind's lives of one score each, (1 if it failed, else 0) - (the pooled
//! Nelson-Aalen sum over its watch), so every split is the sum of a subset. The p is exact where the two kinds' lives were cut
//! short alike, so that any life might have been of either kind; where one kind is much the younger it is an approximation
//! (Heinze, Gnant & Schemper, "Exact log-rank tests for unequal follow-up", Biometrics 59 (2003) 1151; from memory), still a
//! better one for few lives than chi-squared. Lives entered late cannot change places with lives watched from new; then the
//! log-rank p stands, and says so.

use super::NoTest;
use super::log_rank::{self, LogRank, pair};
use crate::sorted;
use crate::statistics::observation::Observation;
use crate::statistics::risk::Watched;

/// Splits at most that are counted.
const SPLITS: u64 = 100_000;
/// What two sums may differ by and count as equal.
const TIE: f64 = 1e-9;

/// A test of the second kind against the first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Test {
    /// The log-rank numbers.
    pub log_rank: LogRank,
    /// The two-sided p to go by.
    pub p: f64,
    /// How that p was found.
    pub how: How,
}

/// How a p was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum How {
    /// By counting every split: those at least as uneven as the one seen, and all.
    Exact {
        /// As uneven or more.
        uneven: u64,
        /// All.
        splits: u64,
    },
    /// By chi-squared.
    ByChiSquared(Approximate),
}

/// Why a p is by chi-squared and not counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Approximate {
    /// More than 100 000 splits.
    ManySplits,
    /// Some lives were entered late.
    LateEntry,
}

/// Tests the second kind against the first.
///
/// # Errors
/// Why there is no test.
pub fn test(first: &[Observation], second: &[Observation]) -> Result<Test, NoTest> {
    let (first, second) = pair(first, second)?;
    let log_rank = log_rank::of(&first, &second)?;
    let scores = Scores::of(&first, &second);
    let (p, how) = if let Some(why) = scores.approximate() {
        (log_rank.p, How::ByChiSquared(why))
    } else {
        let uneven = scores.uneven(scores.seen.abs(), u64::MAX);
        (uneven as f64 / scores.splits as f64, How::Exact { uneven, splits: scores.splits })
    };
    Ok(Test { log_rank, p, how })
}

/// A score for each life of both kinds.
pub(super) struct Scores {
    /// Sorted.
    all: Vec<f64>,
    /// How many of them make a group: the smaller one.
    group: usize,
    /// The sum of the second kind's.
    pub seen: f64,
    /// Ways to choose the group, no more than one past the limit.
    pub splits: u64,
    late: bool,
}

impl Scores {
    pub fn of(first: &[Observation], second: &[Observation]) -> Self {
        let mut lives = first.to_vec();
        lives.extend_from_slice(second);
        let both = Watched::of(&lives);
        let mut sum = 0.0;
        let hazard: Vec<(f64, f64)> = both
            .failures
            .iter()
            .map(|(age, failed)| {
                sum += *failed as f64 / both.at_risk(*age) as f64;
                (*age, sum)
            })
            .collect();
        let by = |age: f64| sorted::until(&hazard, |(at, _)| *at <= age).last().map_or(0.0, |(_, sum)| *sum);
        let score =
            |life: &Observation| f64::from(u8::from(life.failed())) - (by(life.exit) - by(life.entry));
        let mut all: Vec<f64> = lives.iter().map(score).collect();
        all.sort_by(f64::total_cmp);
        let group = first.len().min(second.len());
        Self {
            seen: second.iter().map(score).sum(),
            splits: ways(all.len() as u64, group as u64),
            all,
            group,
            late: lives.iter().any(|life| life.entry > 0.0),
        }
    }

    /// Why the splits are not to be counted.
    pub fn approximate(&self) -> Option<Approximate> {
        match (self.late, self.splits > SPLITS) {
            (true, _) => Some(Approximate::LateEntry),
            (false, true) => Some(Approximate::ManySplits),
            (false, false) => None,
        }
    }

    /// How many splits have a sum at least that far from 0; counting stops once past `enough`. The scores of all lives add to
    /// 0, so that either group tells.
    pub fn uneven(&self, from: f64, enough: u64) -> u64 {
        let mut count = 0;
        choose(&self.all, self.group, 0.0, from - TIE, enough, &mut count);
        count
    }

    /// The smallest p that any split of these lives has; `None` where there are more than the limit.
    pub fn smallest(&self) -> Option<f64> {
        (self.splits <= SPLITS).then(|| {
            let low: f64 = self.all.iter().take(self.group).sum();
            let high: f64 = self.all.iter().rev().take(self.group).sum();
            self.uneven(low.abs().max(high.abs()), u64::MAX) as f64 / self.splits as f64
        })
    }
}

/// Counts the ways to choose `left` more of a sorted rest whose sums are far enough from 0.
fn choose(rest: &[f64], left: usize, sum: f64, from: f64, enough: u64, count: &mut u64) {
    if left == 1 {
        let over = rest.len() - rest.partition_point(|score| sum + score < from);
        let under = rest.partition_point(|score| sum + score <= -from);
        *count += if from > 0.0 { over + under } else { rest.len() } as u64;
        return;
    }
    let mut rest = rest;
    while rest.len() >= left
        && let Some((score, later)) = rest.split_first()
    {
        choose(later, left - 1, sum + score, from, enough, count);
        if *count > enough {
            return;
        }
        rest = later;
    }
}

/// Ways to choose `group` of `all`, or one more than the limit.
fn ways(all: u64, group: u64) -> u64 {
    let mut ways = 1;
    for step in 0..group {
        ways = ways * (all - step) / (step + 1);
        if ways > SPLITS {
            return SPLITS + 1;
        }
    }
    ways
}
