//! What lines about failures, results and gauges say.
//!
//! Must not know entries.

use super::model::GaugeId;
use crate::source::Span;

/// The four fields of a failure.
#[derive(Debug, Clone, Copy, Default)]
pub struct Failure {
    /// How it shows.
    pub mode: Option<Span>,
    /// The physics of it.
    pub mechanism: Option<Span>,
    /// Why.
    pub cause: Option<Span>,
    /// How it was found.
    pub found_by: Option<Span>,
}

/// What a `result` line says; its prize money stands in [`CostFacts`], its words in [`Extra::words`].
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ResultFacts {
    /// Place on the grid.
    pub grid: Option<u32>,
    /// Place at the end.
    pub finish: Option<u32>,
    /// Place in its class.
    pub class: Option<u32>,
    /// Laps behind the winner.
    pub laps_down: Option<u32>,
    /// Seconds added.
    pub penalty: Option<f64>,
    /// Points won.
    pub points: Option<f64>,
    /// It did not get to the end.
    pub retired: bool,
}

/// Two gauges held against one thing, or one of them against a reference. The line's values are in one unit: first what the
/// gauge read, with its repeats, then the other side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Compared {
    /// The gauge.
    pub gauge: GaugeId,
    /// What it was held against.
    pub against: HeldAgainst,
    /// How many of the line's values are the gauge's.
    pub count: usize,
}

/// What a gauge was held against.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum HeldAgainst {
    /// A stated value.
    Reference,
    /// Another gauge.
    Gauge(GaugeId),
}
