//! What a declaration limits and could not be read.
//!
//! Must not know how it is read.

use crate::book::names::Thing;
use rustc_hash::FxHashSet;

/// Limits of a part that nobody can read: what can be read stands, and whether something else comes first is not known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LostLimits {
    /// One of its life.
    pub life: bool,
    /// What says until which day it is good.
    pub days: bool,
}

/// Properties that nobody can read, or that are told twice with two values: each is unknown, which is neither left out nor what would hold if
/// it were.
#[derive(Debug, Clone, Default)]
pub struct Unread(FxHashSet<(Option<Thing>, &'static str)>);

impl Unread {
    /// Notes a property of what a declaration is about; of the shop where that is nothing. One of which nobody can tell which it is has no name.
    pub fn note(&mut self, of: Option<Thing>, property: &'static str) {
        self.0.insert((of, property));
    }

    /// Whether a property that it has not may have been told where it could not be read: by its name, or by no name at all.
    #[must_use]
    pub fn may_be(&self, of: Option<Thing>, property: &str) -> bool {
        self.has(of, property) || self.has(of, "")
    }

    /// Whether a property of it could not be read; of the shop where it is nothing.
    #[must_use]
    pub fn has(&self, of: Option<Thing>, property: &str) -> bool {
        self.0.contains(&(of, property))
    }
}
