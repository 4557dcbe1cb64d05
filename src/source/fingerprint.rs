//! A fingerprint of bytes: the same on every machine and for ever, and not to be met by chance or by trying.
//!
//! SHA-256 (FIPS 180-4), cut to its first 128 bits. Must not know what the bytes are.

use sha2::{Digest as _, Sha256};
use std::fmt::Write as _;

/// How many characters a fingerprint has.
pub const FINGERPRINT: usize = 32;

/// The fingerprint of some pieces of bytes, in hexadecimal: pieces cut elsewhere make another.
#[must_use]
pub fn fingerprint<'a>(pieces: impl IntoIterator<Item = &'a [u8]>) -> String {
    let mut hash = Sha256::new();
    for piece in pieces {
        hash.update((piece.len() as u64).to_le_bytes());
        hash.update(piece);
    }
    let mut text = String::with_capacity(FINGERPRINT);
    for byte in hash.finalize().iter().take(FINGERPRINT / 2) {
        let _ = write!(text, "{byte:02x}");
    }
    text
}
