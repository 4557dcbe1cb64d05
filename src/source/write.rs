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
