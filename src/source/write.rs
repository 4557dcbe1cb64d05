//! Writes files of ours so that each is whole or as it was before: a temporary one beside it, then a rename.
//!
//! Ledgers are not written here (see `rewrite`). Must not know what is written.

use super::fingerprint::{FINGERPRINT, Running};
use super::shown;
use super::temporary;
use super::walk::is_ledger;
use std::fs;
use std::io::{self, Write as _};
use std::path::Path;

/// Puts a text into a file that is ours alone: the place then has all of it or what it had before. A file that has the
/// text already is not touched; a link is replaced, never followed. Returns whether it was written.
///
/// Nothing is forced to the platter: a page can be made again, and forcing thousands of them would take minutes.
///
/// # Errors
/// What the system says; the file is then as it was.
pub fn put(path: &Path, text: &str) -> io::Result<bool> {
    let there =
        fs::symlink_metadata(path).is_ok_and(|there| there.is_file() && there.len() == text.len() as u64);
    if there && fs::read(path).is_ok_and(|bytes| bytes == text.as_bytes()) {
        return Ok(false);
    }
    let mut file = temporary::new(path.parent().unwrap_or(Path::new(".")), temporary::ANYBODY)?;
    file.write_all(text.as_bytes())?;
    file.persist(path).map_err(|failed| failed.error)?;
    Ok(true)
}

/// A file of ours on its way: written beside its place, and put there whole. Dropped, it is gone.
#[derive(Debug)]
pub struct Draft {
    file: tempfile::NamedTempFile,
    print: Running,
}

impl Draft {
    /// A new one in the folder of the place that it is for.
    ///
    /// # Errors
    /// What the system says.
    pub fn beside(place: &Path) -> io::Result<Self> {
        let folder = place.parent().unwrap_or(Path::new("."));
        Ok(Self { file: temporary::new(folder, temporary::ANYBODY)?, print: Running::default() })
    }

    /// Where it is written, for a library that opens files itself.
    #[must_use]
    pub fn path(&self) -> &Path {
        self.file.path()
    }

    /// The fingerprint of what was written through it.
    #[must_use]
    pub fn print(&self) -> String {
        self.print.hex(FINGERPRINT / 2)
    }

    /// Puts it into its place: the place then has all of it or what it had before; a link is replaced, never followed.
    ///
    /// # Errors
    /// What the system says; the place is then as it was.
    pub fn keep(self, place: &Path) -> io::Result<()> {
        self.file.persist(place).map(drop).map_err(|failed| failed.error)
    }
}

impl io::Write for Draft {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let written = self.file.write(bytes)?;
        self.print.eat(bytes.get(..written).unwrap_or_default());
        Ok(written)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file.flush()
    }
}

/// The fingerprint of a file, as [`Draft::print`] has it.
///
/// # Errors
/// What the system says.
pub fn print(path: &Path) -> io::Result<String> {
    let (mut file, mut print, mut bytes) = (fs::File::open(path)?, Running::default(), vec![0; 1 << 16]);
    loop {
        let read = io::Read::read(&mut file, &mut bytes)?;
        if read == 0 {
            return Ok(print.hex(FINGERPRINT / 2));
        }
        print.eat(bytes.get(..read).unwrap_or_default());
    }
}

/// A file that grows by whole lines, each in the system's hands before [`Journal::add`] returns.
#[derive(Debug)]
pub struct Journal {
    file: fs::File,
    length: u64,
}

impl Journal {
    /// Goes on at the end of a file.
    ///
    /// # Errors
    /// What the system says.
    pub fn open(path: &Path) -> io::Result<Self> {
        let file = fs::File::options().append(true).open(path)?;
        let length = file.metadata()?.len();
        Ok(Self { file, length })
    }

    /// Adds a line.
    ///
    /// # Errors
    /// What the system says; the file is then as it was, for half a line would spoil the next.
    pub fn add(&mut self, line: &str) -> io::Result<()> {
        let done = self.file.write_all(line.as_bytes());
        match done {
            Ok(()) => self.length += line.len() as u64,
            Err(_) => self.file.set_len(self.length)?,
        }
        done
    }
}

/// Removes what runs that died have left in a folder of pages.
pub fn sweep(folder: &Path) {
    temporary::sweep(folder);
}

/// Writes a text to where a person pointed: a file, through a link to one, or a device or pipe. A link that leads nowhere is replaced
/// by the file.
///
/// # Errors
/// What the system says, the file then being as it was; and for a ledger, which only a hand or `format` writes.
pub fn write_to(path: &Path, text: &str) -> io::Result<()> {
    let real = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    if is_ledger(&real) || is_ledger(path) {
        let words = format!("`{}` is named like a ledger; this would take its place", shown(path));
        return Err(io::Error::new(io::ErrorKind::InvalidInput, words));
    }
    match fs::metadata(&real) {
        Ok(there) if there.is_dir() => Err(io::ErrorKind::IsADirectory.into()),
        Ok(there) if !there.is_file() => {
            let mut device = fs::File::options().write(true).open(&real)?;
            device.write_all(text.as_bytes())?;
            device.flush()
        }
        _ => {
            sweep(real.parent().unwrap_or(Path::new(".")));
            put(&real, text).map(drop)
        }
    }
}
