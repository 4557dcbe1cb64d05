//! A page's fingerprint: a number made from its view, so that two prints of a page can be told apart or known to be the same.
//!
//! The first 64 bits of the fingerprint of `source`, in two groups that can be read out. Must not know what a view holds.

use crate::source::Running;
use serde::Serialize;
use std::io;

/// A running fingerprint.
#[derive(Debug, Default)]
pub(in crate::report) struct Print(Running);

impl Print {
    /// Takes bytes in.
    pub fn eat(&mut self, bytes: &[u8]) {
        self.0.eat(bytes);
    }

    /// "9f3c21aa 07b1c4de".
    pub fn words(&self) -> String {
        let hex = self.0.hex(8);
        let (one, other) = hex.split_at_checked(8).unwrap_or_default();
        format!("{one} {other}")
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
    let mut print = Print::default();
    // A view is plain data, and this writer cannot fail; were it otherwise the page would say so by an empty print.
    serde_json::to_writer(&mut print, view).map_or_else(|_| String::new(), |()| print.words())
}
