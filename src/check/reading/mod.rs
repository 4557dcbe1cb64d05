//! Checks on files and lines that cannot be read.

crate::check::family! {}
