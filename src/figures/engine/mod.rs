//! Engine checks: leak-down, compression, valve lash, and how each moves with the engine's hours.
//!
//! Must not know fuel or power.

pub mod apart;
pub(super) mod cylinders;
mod drift;
pub(super) mod lash;
pub(super) mod leakdown;

pub use drift::{AtHours, Taken, alike_over_hours, taken};
