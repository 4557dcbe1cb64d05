//! What one setting at one place is worth, as plain data.
//!
//! Must not know how it is worked out, nor words.

use crate::answer::LedgerLine;
use crate::book::entry::EntryId;
use serde::Serialize;

/// What one setting at one place is worth.
#[derive(Debug, Clone, Serialize)]
pub struct TurnWorth {
    /// What was turned: `perch LF`.
    pub turned: String,
    /// What it moved: `cross-weight`, `camber LF`.
    pub moved: String,
    /// By how much for one unit of what was turned.
    pub value: f64,
    /// The standard error.
    pub error: f64,
    /// The lower end of the interval that holds it with 0.95.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
    /// The unit of what moved; null for a plain number.
    pub unit: Option<String>,
    /// The unit of what was turned; null for a plain number.
    pub turned_unit: Option<String>,
    /// How often the place was turned with nothing else changed.
    pub moves: usize,
    /// Degrees of freedom.
    pub freedom: usize,
    /// The furthest it was turned from one reading to another: nothing is said beyond.
    pub furthest: f64,
    /// What springs and tracks say of the same; null where the book has not what that takes.
    pub statics: Option<TurnStatics>,
    /// In words.
    pub sentence: String,
    /// The lines it was read on.
    pub lines: Vec<LedgerLine>,
    /// The same, for who shows them otherwise.
    #[serde(skip)]
    pub readings: Vec<EntryId>,
    /// From each reading to the next: what a trace of it shows.
    #[serde(skip)]
    pub steps: Vec<TurnStep>,
}

/// From one reading to the next, with nothing between but turns of the setting.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TurnStep {
    /// The line of the first.
    pub from: LedgerLine,
    /// That of the next.
    pub to: LedgerLine,
    /// What was turned between them; empty where it was only read again.
    pub turned: Vec<TurnedBy>,
    /// By how much what was read is more.
    pub moved: f64,
}

/// A place that was turned.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TurnedBy {
    /// `perch LF`.
    pub what: String,
    /// By how much, with its sign.
    pub by: f64,
}

/// What springs and tracks say.
#[derive(Debug, Clone, Serialize)]
pub struct TurnStatics {
    /// In the units of the worth.
    pub value: f64,
    /// Its standard uncertainty; null where nothing it rests on has one.
    pub uncertainty: Option<f64>,
    /// Whether the two differ by more than both leave open.
    pub differs: bool,
    /// In words.
    pub sentence: String,
}
