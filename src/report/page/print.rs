//! A page's fingerprint: a number made from its view, so that two prints of a page can be told apart or known to be the same.
//!
//! FNV-1a, 64 bits (Fowler, Noll and Vo; draft-eastlake-fnv): a dozen lines of our own, the same on every machine and for
//! ever, which no hasher of the standard library promises. It guards against nobody. Must not know what a view holds.

use serde::Serialize;
use std::io;

/// A running fingerprint.
#[derive(Debug)]
pub(in crate::report) struct Print(u64);

impl Print {
    /// Of nothing yet.
    pub const fn new() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }

    /// Takes bytes in.
    pub fn eat(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.0 = (self.0 ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }

    /// "9f3c21aa 07b1c4de".
    pub fn words(&self) -> String {
        format!("{:08x} {:08x}", self.0 >> 32, self.0 & 0xffff_ffff)
    }
}

impl io::Write for Print {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.eat(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// The fingerprint of a view, as JSON says it.
pub(in crate::report) fn of(view: &impl Serialize) -> String {
    let mut print = Print::new();
    // A view is plain data, and this writer cannot fail; were it otherwise the page would say so by an empty print.
    serde_json::to_writer(&mut print, view).map_or_else(|_| String::new(), |()| print.words())
}
