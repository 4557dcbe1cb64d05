//! A condition of a reading.
//!
//! Must not know what it was a condition of.

use crate::source::Span;
use crate::units::UnitId;

/// A condition of a reading: `driver 78 kg`, `bars off`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Condition {
    /// Its first word.
    pub key: Span,
    /// All its words.
    pub said: Span,
    /// Its value in SI, for `driver 78 kg`.
    pub value: Option<(f64, UnitId)>,
}
