//! Dimensions, units, and numbers as they are typed.
//!
//! A spelling such as `lb` or `min` is no unit by itself: [`UnitTable::find`] is told what kind of quantity
//! the slot holds. Numbers keep what was typed beside their value ([`Number`]), so that precision is never
//! invented. This folder must not know names, places or cars; money is no unit here.

mod dim;
mod exact;
mod kind;
mod load;
mod measure;
pub mod number;
mod plain;
mod quantity;
mod ruler;
mod si;
mod suggest;
mod table;
pub mod toe;
mod trouble;
mod unit;

pub use dim::{BASES, Dim};
pub use kind::{DIMENSIONS, Dimension, DimensionId};
pub use measure::Measure;
pub use number::{Form, Number, NumberTrouble};
pub use quantity::Quantity;
pub use si::si;
pub use suggest::{suggest, units_for};
pub use table::{Found, UnitTable, table};
pub use unit::{Unit, UnitId};
