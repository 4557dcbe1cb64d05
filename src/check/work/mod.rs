//! Checks on torque and work.

crate::check::family! {}
