//! A setting with its letter, and a run that does not count: of a trial that was found, and of one that was declared.
//!
//! Must not know trials.

use crate::answer::LedgerLine;
use serde::Serialize;

/// A setting of it.
#[derive(Debug, Clone, Serialize)]
pub struct TrialSetting {
    /// Its letter.
    pub letter: String,
    /// As typed.
    pub text: String,
}

/// A run that does not.
#[derive(Debug, Clone, Serialize)]
pub struct RunLeftOut {
    /// Its label.
    pub session: String,
    /// Why.
    pub why: String,
    /// Its line.
    pub line: Option<LedgerLine>,
}
