//! Checks on dates, sessions and counters.

crate::check::family! {}
