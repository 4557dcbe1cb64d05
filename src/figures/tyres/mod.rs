//! Tyres: pressures, sizes. Treads and circumferences are arithmetic, in `grammar/figures.sline`.
//!
//! Must not know gearing.

mod pressure;
mod size;

pub(super) use pressure::FIGURES as PRESSURE;
pub(super) use size::FIGURES as SIZE;
