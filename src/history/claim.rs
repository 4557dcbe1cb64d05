//! Cars that a part may have been on besides where the book has it.
//!
//! Must not know parts or sessions.

use crate::book::model::CarId;
use crate::history::rank::Rank;

/// A time in which a part may have been on a car where the book does not have it: a line says so that another contradicts, or one with a
/// mistake may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Claim {
    /// The car; `None` where it may have been any.
    pub car: Option<CarId>,
    /// First rank.
    pub from: Rank,
    /// One past its last rank; [`Rank::END`] while no line places the part.
    pub until: Rank,
}
