//! The name of a file that waits beside a ledger to be exchanged with it: it says which two texts belong in it.
//!
//! Must not know what a ledger says.

use crate::source::fingerprint::fingerprint;
use crate::source::temporary::PREFIX;
use std::fs;
use std::path::{Path, PathBuf};

/// What the name of such a file ends with.
pub(super) const SWAP: &str = ".swap";

/// Whether a path leads to an ordinary file, not to a link, that has exactly these bytes.
pub(super) fn holds(path: &Path, bytes: &[u8]) -> bool {
    let there = fs::symlink_metadata(path);
    there.is_ok_and(|there| there.is_file() && there.len() == bytes.len() as u64)
        && fs::read(path).is_ok_and(|read| read == bytes)
}

/// What the name of such a file says.
pub(super) struct Swap {
    pub(super) was: String,
    pub(super) now: String,
    pub(super) of: String,
}

impl Swap {
    /// The name for a ledger and two texts. Never longer than 120 bytes, whatever the ledger's name; `unique` makes it one
    /// of its own.
    pub fn name(real: &Path, was: &[u8], now: &[u8], unique: &Path) -> PathBuf {
        let file = real.file_name().unwrap_or_default();
        let of = fingerprint([file.as_encoded_bytes()]);
        let own = fingerprint([unique.as_os_str().as_encoded_bytes(), &std::process::id().to_le_bytes()]);
        let [of, own] = [&of, &own].map(|text| text.get(..8).unwrap_or_default());
        real.with_file_name(format!("{PREFIX}{own}-{of}-{}-{}{SWAP}", fingerprint([was]), fingerprint([now])))
    }

    pub(super) fn read(path: &Path) -> Option<Self> {
        let name = path.file_name()?.to_str()?.strip_prefix(PREFIX)?.strip_suffix(SWAP)?;
        let parts: Vec<&str> = name.split('-').collect();
        let [_, of, was, now] = parts.as_slice() else { return None };
        Some(Self { was: (*was).to_owned(), now: (*now).to_owned(), of: (*of).to_owned() })
    }

    /// The ledger it belongs to, if it is there and has the text that was made for it.
    pub(super) fn ledger(&self, folder: &Path) -> Option<(PathBuf, Vec<u8>)> {
        let ours = |name: &std::ffi::OsStr| fingerprint([name.as_encoded_bytes()]).starts_with(&self.of);
        let entries = fs::read_dir(folder).ok()?;
        let path = entries.flatten().find(|entry| ours(&entry.file_name()))?.path();
        let text = fs::symlink_metadata(&path)
            .ok()
            .filter(fs::Metadata::is_file)
            .and_then(|_| fs::read(&path).ok())?;
        (fingerprint([text.as_slice()]) == self.now).then_some((path, text))
    }
}
