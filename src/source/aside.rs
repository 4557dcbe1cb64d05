//! A folder for pages that are only looked at: this user's alone, and gone when nobody holds it.
//!
//! Must not know what is put there.

use super::write::put;
#[cfg(unix)]
use std::fs;
use std::io;
use std::path::PathBuf;
use tempfile::TempDir;

/// The folder.
#[derive(Debug)]
pub struct Aside {
    folder: TempDir,
}

impl Aside {
    /// Makes one, among the temporary folders of the system.
    ///
    /// # Errors
    /// What the system says.
    pub fn new() -> io::Result<Self> {
        let mut builder = tempfile::Builder::new();
        builder.prefix("stringline-");
        #[cfg(unix)]
        builder.permissions(<fs::Permissions as std::os::unix::fs::PermissionsExt>::from_mode(0o700));
        Ok(Self { folder: builder.tempdir()? })
    }

    /// Puts a text there; one of the same name is replaced. Where it is.
    ///
    /// # Errors
    /// What the system says.
    pub fn put(&self, name: &str, text: &str) -> io::Result<PathBuf> {
        let path = self.folder.path().join(name);
        put(&path, text)?;
        Ok(path)
    }
}
