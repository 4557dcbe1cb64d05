//! A confidence in words.
//!
//! Must not know what is sure.

use crate::units::number;

/// "90 %" of a confidence.
#[must_use]
pub fn confidence_words(confidence: f64) -> String {
    format!("{} %", number::format(confidence * 100.0, u8::from((confidence * 1000.0) % 10.0 > 0.05)))
}
