//! Checks on names, declarations and verbs.

crate::check::family! {}
