//! All integration tests.

mod units;
