//! How long things last, from few lives and many of them unfinished: the mathematics alone.
//!
//! Knows nothing of cars, books, clocks or words, and does no input or output: lives go in as numbers in any one unit of
//! time, numbers and typed reasons come out. Every function sorts a copy of what it is given, so that the order of the
//! lives never changes a bit of the answer, and no finite input makes an infinite or undefined number: what cannot be
//! said is `None` or a reason.

mod beta;
pub mod bounds;
pub mod compare;
pub mod gamma;
pub mod least_squares;
pub mod normal;
pub mod observation;
pub mod poisson;
pub mod reach;
pub mod renewal;
pub mod replacement;
mod risk;
mod root;
pub mod student;
pub mod survival;
pub mod variance_ratio;
pub mod weibull;

pub use observation::{End, Observation, Reason, Why};

/// A range with a confidence to it. An end that the data do not hold is `None`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// The lower end; `None`: no lower end can be given.
    pub low: Option<f64>,
    /// The upper end; `None`: no upper end can be given.
    pub high: Option<f64>,
}

/// The middle of a sorted list; of the two in the middle the mean.
#[must_use]
pub fn middle(sorted: &[f64]) -> Option<f64> {
    let half = sorted.len() / 2;
    let (above, below) = (sorted.get(half)?, sorted.iter().rev().nth(half)?);
    Some(f64::midpoint(*below, *above))
}
