//! A word as names are compared.
//!
//! Must not know what the names stand for.

use unicode_normalization::UnicodeNormalization as _;

/// A word as names are compared: in lower case, and composed, so that it is one word whichever way its accents were typed
/// (Unicode Standard Annex 15, form C).
#[must_use]
pub fn folded(text: &str) -> String {
    if text.is_ascii() { text.to_ascii_lowercase() } else { text.to_lowercase().nfc().collect() }
}
