//! Checks on parts and their lives.

crate::check::family! {}
