//! What a declaration limits and could not be read.
//!
//! Must not know how it is read.

/// Limits of a part that nobody can read: what can be read stands, and whether something else comes first is not known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LostLimits {
    /// One of its life.
    pub life: bool,
    /// What says until which day it is good.
    pub days: bool,
}
