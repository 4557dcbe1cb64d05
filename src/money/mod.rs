//! Money: currencies, exact amounts, one way of rounding, sharing out, exchange rates.
//!
//! Everything here is exact: decimals and whole numbers, never a binary fraction (held by the two lints below and by
//! `tests/money`). Must not know books, cars, parts or dates of anything but a rate.

#![deny(clippy::float_arithmetic, clippy::disallowed_types)]

pub mod amount;
pub mod currency;
pub mod exchange;
pub mod round;
pub mod share;
pub mod time;
pub mod total;

pub use amount::{Amount, Slip};
pub use currency::Currency;
pub use exchange::Rates;
pub use time::Minutes;
pub use total::Total;
