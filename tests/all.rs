//! All integration tests.

// Clippy's own exception for tests reaches only functions marked `#[test]`, not their helpers.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod diagnostics;
mod source;
