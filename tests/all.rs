//! All integration tests.

mod reference;
