//! A run as it counts.
//!
//! Must not know values.

/// A run as it counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Its day, or event, by number: each has a level and a trend of its own.
    pub block: usize,
    /// Its place in the running order of the day, from 1, runs that do not count included.
    pub order: u32,
    /// The number of its setting, 0 for the first.
    pub level: usize,
}
