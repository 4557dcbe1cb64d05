//! Says when something was saved in a folder.
//!
//! Must not know what is read there. What the system tells is not trusted to be all or only what matters: whoever is told reads again.

use crate::source::shown;
use anyhow::Context as _;
use notify::{EventKind, RecommendedWatcher, RecursiveMode, Watcher as _};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// The folders that are watched.
#[derive(Debug)]
pub(super) struct Watch {
    watcher: RecommendedWatcher,
    followed: BTreeSet<PathBuf>,
}

impl Watch {
    /// Of no folder yet. `saved` is called on a thread of the watcher's own.
    ///
    /// # Errors
    /// When the system watches no files.
    pub fn new(saved: impl Fn() + Send + 'static) -> anyhow::Result<Self> {
        let watcher = notify::recommended_watcher(move |event: notify::Result<notify::Event>| {
            // Reading is no change; whatever went wrong may have hidden one.
            if !event
                .is_ok_and(|event| matches!(event.kind, EventKind::Access(access) if !is_written(access)))
            {
                saved();
            }
        });
        let watcher = watcher.context("the system does not say when a file is saved")?;
        Ok(Self { watcher, followed: BTreeSet::new() })
    }

    /// Watches these folders, and none that was watched before and is not among them. Whether one is new: what was saved there before is not told.
    ///
    /// # Errors
    /// Which folder cannot be watched, and why.
    pub fn follow(&mut self, folders: &[PathBuf]) -> anyhow::Result<bool> {
        let wanted: BTreeSet<PathBuf> =
            folders.iter().filter_map(|folder| folder.canonicalize().ok()).collect();
        for gone in self.followed.difference(&wanted) {
            // It may have gone from the disk, and with it what watched it.
            let _ = self.watcher.unwatch(gone);
        }
        self.followed.retain(|folder| wanted.contains(folder));
        let before = self.followed.len();
        for folder in wanted {
            if !self.followed.contains(&folder) {
                self.one(&folder, RecursiveMode::NonRecursive)?;
                self.followed.insert(folder);
            }
        }
        Ok(self.followed.len() > before)
    }

    /// Watches a folder with all below it.
    ///
    /// # Errors
    /// Why it cannot be watched.
    pub fn whole(&mut self, folder: &Path) -> anyhow::Result<()> {
        self.one(folder, RecursiveMode::Recursive)
    }

    fn one(&mut self, folder: &Path, mode: RecursiveMode) -> anyhow::Result<()> {
        let watched = self.watcher.watch(folder, mode);
        watched.with_context(|| format!("cannot be told when something is saved in {}", shown(folder)))
    }
}

/// Whether a file was open to be written and is shut.
fn is_written(access: notify::event::AccessKind) -> bool {
    use notify::event::{AccessKind, AccessMode};
    matches!(access, AccessKind::Close(AccessMode::Write))
}
