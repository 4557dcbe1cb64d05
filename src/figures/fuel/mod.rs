//! Fuel: mixture and blends, injectors and pump, fuel for laps and stints.
//!
//! Must not know the engine's condition or the air.

mod injectors;
mod mixture;
mod stint;

pub(super) use injectors::FIGURES as INJECTORS;
pub(super) use mixture::FIGURES as MIXTURE;
pub(super) use stint::FIGURES as STINT;
