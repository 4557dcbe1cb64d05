//! A field of a failure.
//!
//! Must not know which failures are looked at.

use crate::Compiled;
use crate::book::names::folded;
use crate::lives::Life;
use crate::lives::study::failure;
use serde::Serialize;

/// A field of a failure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Field {
    /// How it shows.
    Mode,
    /// The physics of it.
    Mechanism,
    /// Why.
    Cause,
}

impl Field {
    /// Its word in a ledger.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Mode => "mode",
            Self::Mechanism => "mechanism",
            Self::Cause => "cause",
        }
    }

    /// What a failure says in it, in lower case; empty where it says nothing.
    #[must_use]
    pub fn of(self, compiled: &Compiled, life: &Life) -> String {
        let told = failure(&compiled.book, life).and_then(|told| match self {
            Self::Mode => told.mode,
            Self::Mechanism => told.mechanism,
            Self::Cause => told.cause,
        });
        told.map_or_else(String::new, |span| folded(compiled.files.text(span).trim().trim_matches('"')))
    }
}
