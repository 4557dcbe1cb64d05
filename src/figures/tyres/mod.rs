//! Tyres: pressures by the gas law, what the size code means, temperatures across the tread.
//!
//! Must not know wheels' alignment or gearing.

mod pressure;
mod size;
mod tread;

pub(super) use pressure::FIGURES as PRESSURE;
pub(super) use size::{FIGURES as SIZE, rolling_circumference};
pub(super) use tread::FIGURES as TREAD;
