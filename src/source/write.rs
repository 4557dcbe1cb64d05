//! Writes a file so that it is whole or not there: a temporary one beside it, then a rename.
//!
//! Must not know what is written.

use std::fs;
use std::io::{self, Write as _};
use std::path::Path;

/// Replaces a file's text. A link is followed, and the file keeps its permissions.
///
/// # Errors
/// What the system says; the file is then as it was.
pub fn replace(path: &Path, text: &str) -> io::Result<()> {
    let real = fs::canonicalize(path)?;
    let name = real.file_name().unwrap_or_default().to_string_lossy().into_owned();
    // A name that starts with a dot is no ledger, should it be left behind.
    let temporary = real.with_file_name(format!(".{name}.{}.new", std::process::id()));
    let permissions = fs::metadata(&real)?.permissions();
    let write = || {
        let mut file = fs::File::create(&temporary)?;
        file.write_all(text.as_bytes())?;
        file.sync_all()?;
        fs::set_permissions(&temporary, permissions)?;
        fs::rename(&temporary, &real)
    };
    write().inspect_err(|_| {
        let _ = fs::remove_file(&temporary);
    })
}

/// Puts a text into a file that is ours alone: the place then has all of it or what it had before. A file that has the
/// text already is not touched. Returns whether it was written.
///
/// Nothing is forced to the platter: a page can be made again, and forcing thousands of them would take minutes.
///
/// # Errors
/// What the system says; the file is then as it was.
pub fn put(path: &Path, text: &str) -> io::Result<bool> {
    let there = fs::metadata(path).is_ok_and(|there| there.is_file() && there.len() == text.len() as u64);
    if there && fs::read(path).is_ok_and(|bytes| bytes == text.as_bytes()) {
        return Ok(false);
    }
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let temporary = path.with_file_name(format!(".{name}.{}.new", std::process::id()));
    fs::write(&temporary, text).and_then(|()| fs::rename(&temporary, path)).inspect_err(|_| {
        let _ = fs::remove_file(&temporary);
    })?;
    Ok(true)
}
