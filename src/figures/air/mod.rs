//! Air: vapour pressure, density, density altitude, power correction, the standard atmosphere.
//!
//! Must not know cars beyond what is read of the air.

mod correction;
mod moist;
mod standard;

pub(super) use correction::FIGURES as CORRECTION;
pub(super) use moist::FIGURES as MOIST;
pub(super) use standard::FIGURES as STANDARD;
