//! The first files of a book, in a folder that has none. Nothing that is there is written over.
//!
//! Must not know what is in them.

use super::walk::walk;
use std::fs;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

/// Writes new files into a folder, which is made where there is none; the paths, in order. All of them or none.
///
/// # Errors
/// What the system says; `AlreadyExists` where the folder has a ledger, or something of that name.
pub fn begin(folder: &Path, files: &[(String, String)]) -> io::Result<Vec<PathBuf>> {
    fs::create_dir_all(folder)?;
    if !walk(folder)?.found.is_empty() {
        return Err(io::ErrorKind::AlreadyExists.into());
    }
    let mut made = Vec::new();
    for (name, text) in files {
        let path = folder.join(name);
        let done = fs::File::options().write(true).create_new(true).open(&path).and_then(|mut file| {
            made.push(path);
            file.write_all(text.as_bytes())
        });
        if let Err(error) = done {
            // Ours alone: each was made a moment ago and was not there before.
            for path in &made {
                let _ = fs::remove_file(path);
            }
            return Err(error);
        }
    }
    Ok(made)
}
