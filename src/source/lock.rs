//! A folder held by one run of the program at a time. The system lets go of it when the run ends, however it ends.
//!
//! Must not know what is done in the folder.

use std::fs::{File, TryLockError};
use std::io;
use std::path::Path;
use std::time::{Duration, Instant};

/// So long a run waits for another to be done.
const PATIENCE: Duration = Duration::from_secs(10);
/// How often it looks.
const STEP: Duration = Duration::from_millis(20);

/// A folder that is held.
#[derive(Debug)]
pub struct Lock(Option<File>);

impl Lock {
    /// Takes hold of a folder; `None` where another run still has it after ten seconds. A disk that knows no such locks is
    /// worked on without.
    ///
    /// # Errors
    /// When the folder cannot be opened.
    pub fn take(folder: &Path) -> io::Result<Option<Self>> {
        if cfg!(windows) {
            return Ok(Some(Self(None)));
        }
        let file = File::open(folder)?;
        let started = Instant::now();
        loop {
            match file.try_lock() {
                Ok(()) => return Ok(Some(Self(Some(file)))),
                Err(TryLockError::WouldBlock) if started.elapsed() < PATIENCE => std::thread::sleep(STEP),
                Err(TryLockError::WouldBlock) => return Ok(None),
                Err(TryLockError::Error(_)) => return Ok(Some(Self(None))),
            }
        }
    }

    /// Whether no other run can be at work in the folder.
    pub(super) const fn sure(&self) -> bool {
        self.0.is_some()
    }
}
