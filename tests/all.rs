//! All integration tests.

mod diagnostics;
mod source;
