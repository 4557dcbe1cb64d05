//! Engine checks: leak-down, compression, valve lash, and how each moves with the engine's hours.
//!
//! Must not know fuel or power.

mod cylinders;
mod drift;
mod lash;
mod leakdown;

pub use drift::{AtHours, over_hours};

pub(super) use cylinders::FIGURES as COMPRESSION;
pub(super) use lash::FIGURES as LASH;
pub(super) use leakdown::FIGURES as LEAKDOWN;
