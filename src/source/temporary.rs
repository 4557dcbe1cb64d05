//! Temporary files beside what they will take the place of: no name of theirs is a ledger's, and one whose writer is dead
//! is told from one that is being written.
//!
//! A writer holds a lock on its file, which the system takes away when the writer ends, however it ends. Must not know what
//! is written.

use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};
use tempfile::{Builder, NamedTempFile};

/// What every name of ours begins with: hidden, so never a ledger.
pub(super) const PREFIX: &str = ".stringline-";
/// What the name of a file that is being written ends with.
const PART: &str = ".part";

/// Who may read a new file: as many as any new file in its folder.
pub(super) const ANYBODY: u32 = 0o666;
/// Who may read a new file: its owner alone, until it is given to others.
pub(super) const OWNER: u32 = 0o600;

/// A new file in a folder, removed when it is dropped. `mode` says who may read it (on Unix; the process's mask takes its part).
pub(super) fn new(folder: &Path, mode: u32) -> io::Result<NamedTempFile> {
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    loop {
        let mut builder = Builder::new();
        builder.prefix(PREFIX).suffix(PART).rand_bytes(12);
        #[cfg(unix)]
        builder.permissions(<fs::Permissions as std::os::unix::fs::PermissionsExt>::from_mode(mode));
        #[cfg(not(unix))]
        let _ = mode;
        let file = builder.tempfile_in(folder)?;
        // A sweep that came between making and locking has taken the name away: then once more.
        let _ = file.as_file().try_lock();
        if still_there(file.as_file())? {
            return Ok(file);
        }
    }
}

#[cfg(unix)]
fn still_there(file: &File) -> io::Result<bool> {
    Ok(std::os::unix::fs::MetadataExt::nlink(&file.metadata()?) > 0)
}

#[cfg(not(unix))]
#[expect(clippy::unnecessary_wraps, reason = "as on Unix")]
fn still_there(_: &File) -> io::Result<bool> {
    Ok(true)
}

/// Every ordinary file in a folder whose name begins as ours do and ends so.
pub(super) fn of_ours(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let mut found: Vec<PathBuf> = entries
        .flatten()
        .filter(|entry| {
            let name = entry.file_name();
            let ours = name.to_str().is_some_and(|name| name.starts_with(PREFIX) && name.ends_with(ending));
            ours && entry.file_type().is_ok_and(|kind| kind.is_file())
        })
        .map(|entry| entry.path())
        .collect();
    found.sort();
    found
}

/// Removes the files of dead writers from a folder. What they hold was only ever made by this program.
pub(super) fn sweep(folder: &Path) {
    for path in of_ours(folder, PART) {
        // Held while it is removed, so that a writer which has just made it sees that it is gone.
        let Ok(file) = File::options().read(true).write(true).open(&path) else { continue };
        if file.try_lock().is_ok() {
            let _ = fs::remove_file(&path);
        }
    }
}
