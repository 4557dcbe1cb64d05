//! A book on disk over which unsaved texts are laid: what an editor holds counts, not what was saved last.
//!
//! Must not know the language, nor who holds the texts.

use super::disk::{cannot, read_all};
use super::walk::{Found, Walk, is_ledger, is_output, walk_at_most};
use super::{Files, LoadTrouble, World, shown};
use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// The book of a folder, with texts in the place of some of its files.
#[derive(Debug, Clone, Default)]
pub struct Overlay {
    /// The book's folder. Where there is none on disk, or this is no absolute path, the book is the texts alone.
    pub root: PathBuf,
    /// Whole texts by the file each stands for, on disk or not yet.
    pub texts: BTreeMap<PathBuf, String>,
    /// The instant of the run; `None` for the clock.
    pub now: Option<jiff::Timestamp>,
    /// A folder with so many files and folders below it, or more, is refused.
    pub most: Option<usize>,
}

impl World for Overlay {
    fn load(&self) -> Result<(Files, Vec<LoadTrouble>), String> {
        let mut walk = self.walked()?;
        let mut held: BTreeMap<PathBuf, &str> = BTreeMap::new();
        let mut new = Vec::new();
        for (path, text) in &self.texts {
            // A link leads to it: the file is found by another name.
            let linked = || {
                let real = fs::canonicalize(path).ok()?;
                walk.found.iter().position(|one| fs::canonicalize(&one.open).is_ok_and(|other| other == real))
            };
            let at = walk.found.iter().position(|one| one.open == *path).or_else(linked);
            if let Some(found) = at.and_then(|at| walk.found.get_mut(at)) {
                // Whoever holds the text knows it by this name; of two names for one file the first is it.
                if !held.contains_key(&found.open) {
                    found.open.clone_from(path);
                    held.insert(path.clone(), text);
                }
            } else if let Some(found) = self.found(path) {
                held.insert(path.clone(), text);
                new.push(found);
            }
        }
        walk.add(new);
        Ok(read_all(walk, &|found| held.get(&found.open).map(|text| (*text).to_owned())))
    }

    fn now(&self) -> jiff::Timestamp {
        self.now.unwrap_or_else(jiff::Timestamp::now)
    }
}

impl Overlay {
    /// What is on disk. Nothing is no mistake: the folder is not there yet, or the book is a text that was never saved.
    fn walked(&self) -> Result<Walk, String> {
        if !self.root.is_absolute() {
            return Ok(Walk::default());
        }
        walk_at_most(&self.root, self.most).or_else(|error| match error.kind() {
            io::ErrorKind::NotFound | io::ErrorKind::NotADirectory => Ok(Walk::default()),
            io::ErrorKind::QuotaExceeded => Err(format!(
                "`{}` is not read as a book, it holds {} files and folders or more: put the ledgers into a folder of their own and open that",
                shown(&self.root),
                self.most.unwrap_or_default()
            )),
            _ => Err(cannot(&self.root, &error)),
        })
    }

    /// A text that is not on disk yet, where the walk would find it once it is.
    fn found(&self, path: &Path) -> Option<Found> {
        if *path == self.root {
            return Some(Found { open: path.to_owned(), below: path.file_name()?.to_owned() });
        }
        let below = path.strip_prefix(&self.root).ok()?;
        let hidden = below.iter().any(|name| name.as_encoded_bytes().starts_with(b"."));
        let made = below.parent().is_some_and(|folder| folder.ancestors().any(is_output));
        let names: Vec<&std::ffi::OsStr> = below.iter().collect();
        let ours = is_ledger(path) && !hidden && !made;
        ours.then(|| Found { open: path.to_owned(), below: names.join(std::ffi::OsStr::new("/")) })
    }
}
