//! A fingerprint of bytes: the same on every machine and for ever, and not to be met by chance or by trying.
//!
//! SHA-256 (FIPS 180-4), cut to its first 128 bits. Must not know what the bytes are.

use sha2::{Digest as _, Sha256};
use std::fmt::Write as _;

/// How many characters a fingerprint has.
pub const FINGERPRINT: usize = 32;

/// A fingerprint of bytes that come one after the other, wherever they are cut.
#[derive(Debug, Clone, Default)]
pub struct Running(Sha256);

impl Running {
    /// Takes bytes in.
    pub fn eat(&mut self, bytes: &[u8]) {
        self.0.update(bytes);
    }

    /// The first `most` bytes of the fingerprint so far, of the 32 there are, in hexadecimal.
    #[must_use]
    pub fn hex(&self, most: usize) -> String {
        let mut text = String::with_capacity(2 * most);
        for byte in self.0.clone().finalize().iter().take(most) {
            let _ = write!(text, "{byte:02x}");
        }
        text
    }
}

/// The fingerprint of some pieces of bytes, in hexadecimal: pieces cut elsewhere make another.
#[must_use]
pub fn fingerprint<'a>(pieces: impl IntoIterator<Item = &'a [u8]>) -> String {
    let mut running = Running::default();
    for piece in pieces {
        running.eat(&(piece.len() as u64).to_le_bytes());
        running.eat(piece);
    }
    running.hex(FINGERPRINT / 2)
}
