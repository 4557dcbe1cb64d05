//! Finds the ledger files below a folder, in any nesting, reading nothing of them.
//!
//! Must not know what a ledger holds. Real folders are walked before links, so that a link to a folder
//! of the same book is the one left out, whatever the names; no folder and no file is ever found twice.

use super::{LoadTrouble, shown};
use std::collections::BTreeSet;
use std::ffi::{OsStr, OsString};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// A ledger file found: where to open it, and how the book calls it.
#[derive(Debug)]
pub(super) struct Found {
    /// Path to open.
    pub open: PathBuf,
    /// Path below the book's folder, with `/` between parts, byte for byte as the disk has it.
    pub below: OsString,
}

impl Found {
    /// How the book calls it.
    pub fn shown(&self) -> String {
        shown(Path::new(&self.below))
    }
}

/// What a walk came back with.
#[derive(Debug, Default)]
pub(super) struct Walk {
    /// How many files and folders may still be looked at; `None` for as many as there are.
    left: Option<usize>,
    /// The files, in path order.
    pub found: Vec<Found>,
    /// What could not be read or followed, with the path it is sorted by.
    pub troubles: Vec<(OsString, LoadTrouble)>,
    links: Vec<Found>,
    /// Every folder that was looked into, by its real path.
    pub folders: BTreeSet<PathBuf>,
    files: BTreeSet<PathBuf>,
}

/// The system's reason without its number, which means nothing in a shop.
#[must_use]
pub fn reason(error: &io::Error) -> String {
    let words = error.to_string();
    words.split(" (os error").next().unwrap_or_default().to_lowercase()
}

/// Whether a file name ends in `.sline`, in any case.
#[must_use]
pub fn is_ledger(path: &Path) -> bool {
    path.extension().is_some_and(|end| end.eq_ignore_ascii_case("sline"))
}

/// Finds every ledger file below `root`.
///
/// # Errors
/// When `root` itself cannot be opened.
pub(super) fn walk(root: &Path) -> io::Result<Walk> {
    walk_at_most(root, None)
}

/// The same, where nobody chose the folder to be a book: a disk or a home is left after `most` files and folders.
///
/// # Errors
/// When `root` itself cannot be opened, or holds more ([`io::ErrorKind::QuotaExceeded`]).
pub(super) fn walk_at_most(root: &Path, most: Option<usize>) -> io::Result<Walk> {
    let mut walk = Walk { left: most, ..Walk::default() };
    fs::read_dir(root)?;
    walk.folder(root.to_owned(), OsString::new(), &fs::canonicalize(root)?);
    // A followed link may hold links of its own: go round until none is left.
    while !walk.links.is_empty() && walk.left != Some(0) {
        let mut links = std::mem::take(&mut walk.links);
        links.sort_by(|a, b| (&a.below, &a.open).cmp(&(&b.below, &b.open)));
        for link in links {
            walk.link(link);
        }
    }
    if walk.left == Some(0) {
        return Err(io::ErrorKind::QuotaExceeded.into());
    }
    walk.found.sort_by(|a, b| (&a.below, &a.open).cmp(&(&b.below, &b.open)));
    Ok(walk)
}

impl Walk {
    /// Of a single file.
    pub fn one(found: Found) -> Self {
        Self { found: vec![found], ..Self::default() }
    }

    /// Adds files in their order.
    pub fn add(&mut self, more: Vec<Found>) {
        self.found.extend(more);
        self.found.sort_by(|a, b| (&a.below, &a.open).cmp(&(&b.below, &b.open)));
    }

    fn unreadable(&mut self, below: OsString, reason: String) {
        let path = shown(Path::new(&below));
        self.troubles.push((below, LoadTrouble::Unreadable { path, reason }));
    }

    fn looped(&mut self, link: Found) {
        let path = link.shown();
        self.troubles.push((link.below, LoadTrouble::Loop { path }));
    }

    /// Walks a real folder and every real folder below it; links are kept for later.
    fn folder(&mut self, open: PathBuf, below: OsString, real: &Path) {
        let mut waiting = vec![(open, below, real.to_owned())];
        while let Some((open, folder, real)) = waiting.pop() {
            if !self.folders.insert(real.clone()) {
                continue;
            }
            let entries = match fs::read_dir(&open) {
                Ok(entries) => entries,
                Err(error) => {
                    self.unreadable(folder, reason(&error));
                    continue;
                }
            };
            for entry in entries {
                self.left = self.left.map(|left| left.saturating_sub(1));
                if self.left == Some(0) {
                    return;
                }
                let entry = match entry {
                    Ok(entry) => entry,
                    Err(error) => {
                        self.unreadable(folder.clone(), reason(&error));
                        continue;
                    }
                };
                let name = entry.file_name();
                // Hidden files are editors' locks and leavings, never a ledger.
                if name.as_encoded_bytes().starts_with(b".") {
                    continue;
                }
                let found = Found { open: entry.path(), below: joined(&folder, &name) };
                match entry.file_type() {
                    Ok(kind) if kind.is_symlink() => self.links.push(found),
                    Ok(kind) if kind.is_dir() => {
                        if !is_output(&found.open) {
                            let real = real.join(&name);
                            waiting.push((found.open, found.below, real));
                        }
                    }
                    Ok(kind) if is_ledger(&found.open) => self.file(found, kind.is_file(), real.join(&name)),
                    Ok(_) => {}
                    Err(error) => self.unreadable(found.below, reason(&error)),
                }
            }
        }
    }

    fn file(&mut self, found: Found, ordinary: bool, real: PathBuf) {
        if !ordinary {
            // Opening a pipe or a device could wait for ever.
            self.unreadable(found.below, "not an ordinary file".to_owned());
        } else if self.files.insert(real) {
            self.found.push(found);
        }
    }

    fn link(&mut self, link: Found) {
        let target =
            fs::canonicalize(&link.open).and_then(|real| fs::metadata(&real).map(|kind| (real, kind)));
        match target {
            Ok((real, kind)) if kind.is_dir() => {
                if is_output(&link.open) {
                    return;
                }
                let home = link.open.parent().and_then(|home| fs::canonicalize(home).ok());
                let above = home.is_some_and(|home| home.starts_with(&real));
                if above || self.folders.contains(&real) {
                    self.looped(link);
                } else {
                    self.folder(link.open, link.below, &real);
                }
            }
            Ok((real, kind)) if is_ledger(&link.open) => {
                if self.files.contains(&real) {
                    self.looped(link);
                } else {
                    self.file(link, kind.is_file(), real);
                }
            }
            Ok(_) => {}
            // A broken link to a picture is no matter; one that may have been a ledger or a folder is.
            Err(_) if link.open.extension().is_some() && !is_ledger(&link.open) => {}
            Err(error) => match error.kind() {
                io::ErrorKind::NotFound => self.unreadable(link.below, "the link leads nowhere".to_owned()),
                io::ErrorKind::PermissionDenied => self.unreadable(link.below, reason(&error)),
                _ => self.looped(link),
            },
        }
    }
}

/// A name below a folder of the book.
fn joined(folder: &OsStr, name: &OsStr) -> OsString {
    if folder.is_empty() {
        return name.to_owned();
    }
    let mut path = folder.to_owned();
    path.push("/");
    path.push(name);
    path
}

/// Folders that hold what was made from a book, never the book.
pub(super) fn is_output(path: &Path) -> bool {
    path.file_name().is_some_and(|name| name == "target" || name == "out")
}
