//! A word and what is said about it: a line of a list of facts.
//!
//! Must not know what it is about.

use serde::Serialize;

/// A word and what is said of it.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Fact {
    /// "owner", "class", "engine".
    pub word: String,
    /// As typed.
    pub text: String,
    /// Its line.
    pub src: String,
}
