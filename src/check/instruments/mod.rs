//! Checks on gauges and measuring.

crate::check::family! {}
