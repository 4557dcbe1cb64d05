//! Whether one kind outlasts another, and what it would take to say so.
//!
//! The test is the log-rank test, exact over every way of dealing the lives to the two kinds where that can be counted.

mod log_rank;
mod needed;
mod permutation;
mod verdict;

pub use log_rank::{LogRank, log_rank};
pub use needed::{Needed, needed};
pub use permutation::{Approximate, How, Test, test};
pub use verdict::{Short, Verdict, verdict};

use super::observation::Why;

/// Why two kinds cannot be tested against each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum NoTest {
    /// A life of the first kind is unusable, or it has none.
    First(Why),
    /// A life of the second kind is unusable, or it has none.
    Second(Why),
    /// Nothing of either kind has failed.
    NoFailures,
    /// At no failure were lives of both kinds being watched (late entry, or one kind all young when the other failed).
    NeverTogether,
}
