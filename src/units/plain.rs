//! The plain number, the unit of a number that needs none.
//!
//! Must not know any other.

/// The symbol of the plain number, the unit of a number that needs none.
pub(super) const PLAIN: &str = "1";
