//! By how much a gauge reads high, what that comes from, and what cannot all be right.
//!
//! Plain data. Must not know how it is found.

use crate::book::entry::{EntryId, HeldAgainst};
use std::collections::BTreeMap;

/// What something unsure comes from; two corrections that share it are wrong by it together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Cause {
    pub(super) net: u32,
    pub(super) which: Which,
    /// Which stretch of time.
    pub(super) stretch: u32,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) enum Which {
    /// A pair that was held against one another, by number; the stretch is the number of its day.
    Pair(u32),
    /// What became of a gauge between two days on which it was known, by the numbers of its stations.
    Between(u32),
    /// A ring of comparisons that does not close, at a gauge by number.
    Ring(u32),
}

/// One comparison on the way from a gauge to what it is corrected against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// What it comes from.
    pub cause: Cause,
    /// 1 where it counts as it was made, -1 where it is gone the other way.
    pub sign: f64,
    /// By how much it may be off, either way. SI.
    pub half: f64,
}

/// By how much a gauge reads high on a day. SI, in the dimension that it was asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Correction {
    /// How much too high.
    pub high: f64,
    /// What that comes from; none for the gauge that others are brought to.
    pub steps: Vec<Step>,
    /// The reference, or the gauge in whose terms it is said: then nobody knows which of the two is right.
    pub against: HeldAgainst,
    /// Readings in the same terms can be held against one another.
    pub terms: Terms,
    /// No comparison lies on either side of the day: the nearest is taken.
    pub nearest: bool,
    /// The lines, in the order of the book's text.
    pub lines: Vec<EntryId>,
    /// By how much comparisons in a ring do not close, where the gauge is in one.
    pub open: Option<f64>,
}

/// What gauges are brought to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Terms {
    /// The reference.
    Reference,
    /// One of the gauges of a net that leads to none.
    Net(u32),
}

/// Two ways from one gauge to another that say different things, beyond what they leave open.
#[derive(Debug, Clone, PartialEq)]
pub struct Quarrel {
    /// The comparisons, in the order of the book's text; the last is the newest.
    pub lines: Vec<EntryId>,
    /// By how much, SI.
    pub apart: f64,
    /// How much they leave open together, SI.
    pub room: f64,
    /// On one day, of one pair, rather than round a ring.
    pub same_day: bool,
}

impl Correction {
    /// By how much it may be off, either way. SI.
    #[must_use]
    pub fn half(&self) -> f64 {
        self.steps.iter().map(|step| step.half).sum()
    }

    /// By how much more one gauge reads than another, and how far off that may be. What both rest on counts for nothing.
    #[must_use]
    pub fn less(&self, other: &Self) -> (f64, f64) {
        let mut all: BTreeMap<Cause, (f64, f64)> = BTreeMap::new();
        for (step, sign) in
            self.steps.iter().map(|step| (step, 1.0)).chain(other.steps.iter().map(|step| (step, -1.0)))
        {
            let known = all.entry(step.cause).or_insert((0.0, step.half));
            known.0 += sign * step.sign;
        }
        (self.high - other.high, all.values().map(|(times, half)| times.abs() * half).sum())
    }
}
