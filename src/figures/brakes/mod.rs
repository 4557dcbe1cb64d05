//! Brakes: pressures, torques and bias from the hydraulics; the ideal share; wear of pads and discs.
//!
//! Must not know the engine or the tyres.

mod hydraulics;
mod sharing;
mod wear;

pub(super) use hydraulics::FIGURES as HYDRAULICS;
pub(super) use sharing::FIGURES as SHARING;
pub(super) use wear::FIGURES as WEAR;
