//! Why the laps cannot say what a change did.
//!
//! Facts; the answer has the sentences. Must not know numbers.

use super::aside::Aside;
use super::factor::Factor;

/// Why a trial has no answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refusal {
    /// These changed whenever it did.
    NotAlone(Vec<Factor>),
    /// What it stood at is not known in some of the runs, and known alike in the others.
    NotKnown,
    /// What is left out leaves one setting of it.
    LeftOut(Vec<Aside>),
    /// Each setting of it came once, one after the other: the change went with the order of the runs.
    WentWithOrder,
    /// It was only ever turned the same way: a step is the same as a run later.
    OnlyOneWay,
    /// Each day had one setting: it went with the day.
    WentWithDay,
    /// No run is left over to judge the scatter by: so many runs that count, and so many numbers to find.
    TooFew {
        /// Runs.
        runs: usize,
        /// What they must tell: each day's level and trend, and the change.
        unknowns: usize,
    },
    /// The values lie on a line to the last digit, so that nothing says how far they scatter.
    NoScatter,
    /// Fewer than three runs have the value.
    NotMeasured,
}
