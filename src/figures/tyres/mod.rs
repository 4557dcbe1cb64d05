//! Tyres: pressures, sizes. Treads and circumferences are arithmetic, in `grammar/figures.sline`.
//!
//! Must not know gearing.

pub(super) mod pressure;
pub(super) mod size;
