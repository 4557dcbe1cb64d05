//! All integration tests, in one binary.

// Clippy's own exception for tests reaches only functions marked `#[test]`, not their helpers.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod checks;
mod command;
mod diagnostics;
mod figures;
mod format;
mod reference;
mod source;
mod units;
mod verbs;
