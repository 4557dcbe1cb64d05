//! A stream that remembers whether what was written to it arrived.
//!
//! Every command writes through two of these ([`super::run`]), so that none of them has to ask. Must not know what is written.

use crate::source::reason;
use std::io::{self, ErrorKind, Write};

/// A stream, and the first reason why it took no more.
pub(super) struct Watched<'a> {
    to: &'a mut dyn Write,
    failed: Option<io::Error>,
}

impl<'a> Watched<'a> {
    /// Of a stream that has taken everything so far.
    pub fn new(to: &'a mut dyn Write) -> Self {
        Self { to, failed: None }
    }

    /// Pushes out what the stream holds back; in words why something did not arrive. A reader that has gone away (a closed
    /// pipe) wants no more, and that is no fault.
    pub fn end(&mut self) -> Option<String> {
        let _ = self.flush();
        self.failed.as_ref().filter(|error| error.kind() != ErrorKind::BrokenPipe).map(reason)
    }

    /// Does it, unless something was lost before: after a hole nothing more is written.
    fn unless_failed<T>(&mut self, act: impl FnOnce(&mut dyn Write) -> io::Result<T>) -> io::Result<T> {
        if let Some(failed) = &self.failed {
            return Err(failed.kind().into());
        }
        let done = act(self.to);
        match done {
            Err(error) if error.kind() != ErrorKind::Interrupted => {
                let kind = error.kind();
                self.failed = Some(error);
                Err(kind.into())
            }
            done => done,
        }
    }
}

impl Write for Watched<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.unless_failed(|to| match to.write(bytes) {
            Ok(0) if !bytes.is_empty() => Err(ErrorKind::WriteZero.into()),
            written => written,
        })
    }

    fn flush(&mut self) -> io::Result<()> {
        self.unless_failed(|to| to.flush())
    }
}
