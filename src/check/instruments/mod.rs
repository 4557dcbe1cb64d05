//! Checks on gauges and measuring.

pub(super) mod bench;

crate::check::family! {}
