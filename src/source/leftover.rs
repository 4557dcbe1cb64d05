//! What a run that was killed while it gave ledgers new texts has left behind, and what becomes of it.
//!
//! A file that waits beside a ledger to be exchanged with it, or that came out of the exchange, has a name that says which
//! two texts belong in it: what was read, and what was made of it. With either it can go. With any other text it holds what
//! somebody typed while the run was killed: it is put back, or kept. Must not know what a ledger says.

use super::fingerprint::fingerprint;
use super::lock::Lock;
use super::rewrite::{Left, Means, back};
use super::temporary::{self, of_ours};
use super::walk::reason;
use crate::source::swap::{SWAP, Swap};
use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// Something a run has left that held what was typed, or that will not go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Leftover {
    /// It is in its ledger again.
    Restored(PathBuf),
    /// It is in this file, for the ledger has been written to since, or is gone.
    Kept(PathBuf),
    /// It holds one of its two texts and could go, but the disk will not remove it, for this reason.
    Stuck(PathBuf, String),
}

/// Clears folders, and those of ledgers, of what killed runs have left.
pub fn clear<'a>(places: impl IntoIterator<Item = &'a Path>) -> Vec<Leftover> {
    let real = places.into_iter().filter_map(|path| fs::canonicalize(path).ok());
    let folder = |path: PathBuf| if path.is_dir() { Some(path) } else { path.parent().map(Path::to_owned) };
    let folders: BTreeSet<PathBuf> = real.filter_map(folder).collect();
    let mut found = Vec::new();
    for folder in folders {
        temporary::sweep(&folder);
        // Nothing to clear is the rule; then nobody need wait for anybody.
        if of_ours(&folder, SWAP).is_empty() {
            continue;
        }
        let Ok(Some(lock)) = Lock::take(&folder) else { continue };
        if !lock.sure() {
            continue;
        }
        found.extend(of_ours(&folder, SWAP).into_iter().filter_map(|path| one(&folder, &path)));
    }
    found
}

fn one(folder: &Path, path: &Path) -> Option<Leftover> {
    let swap = Swap::read(path)?;
    let kept = || Some(Leftover::Kept(path.to_owned()));
    let Ok(text) = fs::read(path) else { return kept() };
    let print = fingerprint([text.as_slice()]);
    if print == swap.was || print == swap.now {
        let failed = fs::remove_file(path).err().filter(|error| error.kind() != io::ErrorKind::NotFound);
        return failed.map(|error| Leftover::Stuck(path.to_owned(), reason(&error)));
    }
    let Some((ledger, now)) = swap.ledger(folder) else { return kept() };
    match back(path, &ledger, &now, Means::Exchange, &mut |_, _| ()) {
        Left::Changed => Some(Leftover::Restored(ledger)),
        _ => kept(),
    }
}
