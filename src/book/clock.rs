//! Clocks of use: what wears a part out, and an amount on one.
//!
//! Must not know parts.

use crate::source::Span;

/// What wears a part out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Clock {
    /// Running time, seconds.
    Time,
    /// Laps.
    Laps,
    /// Metres, at speed and on the road.
    Distance,
    /// Calendar dates with a session.
    Days,
    /// Events.
    Events,
    /// Sessions.
    Sessions,
    /// Standing starts.
    Launches,
    /// Heat cycles.
    HeatCycles,
    /// Calendar months since it was first fitted.
    Months,
    /// Metres at speed, without the road between stages.
    StageDistance,
}

impl Clock {
    /// Every clock, in order.
    pub const ALL: [Self; 10] = [
        Self::Time,
        Self::Laps,
        Self::Distance,
        Self::Days,
        Self::Events,
        Self::Sessions,
        Self::Launches,
        Self::HeatCycles,
        Self::Months,
        Self::StageDistance,
    ];
}

/// A limit of life or an opening use on one clock.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LifeAmount {
    /// The clock.
    pub clock: Clock,
    /// Seconds, metres or a count.
    pub value: f64,
    /// As typed.
    pub typed: Span,
}
