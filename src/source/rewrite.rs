//! Gives ledgers new texts, and loses nothing that is typed into them meanwhile.
//!
//! The new text is written beside the ledger and the two files are *exchanged* in one step of the system; what came out is
//! compared with what was read. If it differs, somebody has typed in between: the two are exchanged back. What came out is
//! kept for another moment and compared once more, for a program that had opened the ledger before and wrote into it after.
//! One that writes into it later still is the window that is left (`DEVELOPERS.md`, "What is typed while `format` runs").
//! Must not know what a ledger says.

use super::attributes;
use super::lock::Lock;
use super::swap::{Swap, holds};
use super::temporary;
use super::walk::reason;
use std::collections::BTreeMap;
use std::fs;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// A ledger that is to have a new text.
#[derive(Debug, Clone, Copy)]
pub struct Rewrite<'a> {
    /// What to open.
    pub path: &'a Path,
    /// The bytes that were read.
    pub was: &'a [u8],
    /// The bytes that it is to have.
    pub now: &'a [u8],
}

/// What was left: a ledger as it was, with the reason, or something beside it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Left {
    /// It is not what was read: somebody has written to it since, moved or removed it.
    Changed,
    /// Somebody wrote to it, and then to what had taken its place: that stands, and the first is in this file.
    Kept(PathBuf),
    /// It may not be written to.
    ReadOnly,
    /// It has this many names, and a new file would have only one of them.
    Linked(u64),
    /// It is no ordinary file any more.
    NotOrdinary,
    /// Another run is at work in its folder.
    Busy,
    /// Its owner, or what else the disk knows about it, could not be given to a new file; with the reason.
    Owner(String),
    /// The system's reason.
    Disk(String),
    /// It was not left: it has its new text. But what it was lies in this file, which the disk would not remove for this
    /// reason; a later run does.
    Beside(PathBuf, String),
}

/// Where a rewrite stands, for tests that put their hands in between.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// The file for the new text is made, and there is nothing in it yet.
    Made,
    /// The new text is on disk beside the ledger, which was compared a last time.
    Ready,
    /// The two are exchanged.
    Exchanged,
    /// What came out was not what was read, and the two were exchanged back.
    Back,
    /// All of a batch is exchanged; the last look comes.
    Settling,
}

/// What looks on at each step.
pub type Hook<'a> = &'a mut dyn FnMut(Step, &Path);

/// How a new text takes a ledger's place, the best first. What the disk does not know falls to the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Means {
    /// The two files are exchanged in one step.
    Exchange,
    /// The ledger gets a second name, then the new text its first one.
    SecondName,
    /// The new text is renamed to the ledger's name.
    Rename,
}

/// What came out is looked at once more after this long.
const SETTLE: Duration = Duration::from_millis(50);
/// So many folders are held at once.
const BATCH: usize = 128;

/// A ledger that has its new text, and what came out, not yet removed.
struct Placed<'a> {
    index: usize,
    one: &'a Rewrite<'a>,
    swap: PathBuf,
    real: PathBuf,
}

/// Gives each ledger its new text, or says why it was left; the answers come in the order of `all`. `means` is the best to be
/// tried; whoever is not a test asks for the best there is.
pub fn rewrite(all: &[Rewrite<'_>], means: Means, hook: Hook<'_>) -> Vec<Option<Left>> {
    let mut answers: BTreeMap<usize, Left> = BTreeMap::new();
    let mut folders: BTreeMap<PathBuf, Vec<(usize, &Rewrite<'_>, PathBuf)>> = BTreeMap::new();
    for (index, one) in all.iter().enumerate() {
        match fs::canonicalize(one.path) {
            Ok(real) => {
                let folder = real.parent().unwrap_or(Path::new("/")).to_owned();
                folders.entry(folder).or_default().push((index, one, real));
            }
            Err(error) => drop(answers.insert(index, missing(&error))),
        }
    }
    let folders: Vec<_> = folders.into_iter().collect();
    for batch in folders.chunks(BATCH) {
        let mut locks = Vec::new();
        let mut placed = Vec::new();
        for (folder, ledgers) in batch {
            let held = match Lock::take(folder) {
                Ok(Some(lock)) => {
                    locks.push(lock);
                    None
                }
                Ok(None) => Some(Left::Busy),
                Err(error) => Some(Left::Disk(reason(&error))),
            };
            for (index, one, real) in ledgers {
                let (index, real) = (*index, real.clone());
                match held.clone().map_or_else(|| place(one, &real, means, hook), Err) {
                    Ok(swap) => placed.extend(swap.map(|swap| Placed { index, one, swap, real })),
                    Err(left) => drop(answers.insert(index, left)),
                }
            }
        }
        if let Some(first) = placed.first() {
            hook(Step::Settling, &first.real);
            std::thread::sleep(SETTLE);
        }
        for one in placed {
            answers.extend(settle(&one, means, hook).err().map(|left| (one.index, left)));
        }
        drop(locks);
    }
    (0..all.len()).map(|index| answers.remove(&index)).collect()
}

fn missing(error: &io::Error) -> Left {
    if error.kind() == io::ErrorKind::NotFound { Left::Changed } else { Left::Disk(reason(error)) }
}

/// The last look at what came out, which then goes.
fn settle(one: &Placed<'_>, means: Means, hook: Hook<'_>) -> Result<(), Left> {
    let Rewrite { was, now, .. } = *one.one;
    if holds(&one.swap, was) {
        return match fs::remove_file(&one.swap) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => {
                Err(Left::Beside(one.swap.clone(), reason(&error)))
            }
            _ => Ok(()),
        };
    }
    if holds(&one.real, now) {
        return Err(back(&one.swap, &one.real, now, means, hook));
    }
    Err(Left::Kept(one.swap.clone()))
}

/// Exchanges a ledger for its new text; the path of what came out, where the disk could keep it.
fn place(one: &Rewrite<'_>, real: &Path, means: Means, hook: Hook<'_>) -> Result<Option<PathBuf>, Left> {
    let disk = |error: io::Error| Left::Disk(reason(&error));
    let there = fs::symlink_metadata(real).map_err(|error| missing(&error))?;
    if !there.is_file() {
        return Err(Left::NotOrdinary);
    }
    if let Some(names) = attributes::names(&there) {
        return Err(Left::Linked(names));
    }
    if attributes::read_only(real, &there) {
        return Err(Left::ReadOnly);
    }
    if !holds(real, one.was) {
        return Err(Left::Changed);
    }
    let folder = real.parent().unwrap_or(Path::new("/"));
    // Nobody may read the new text who may not read the ledger, at no time: the file has the ledger's rights before it has words.
    let mut file = temporary::new(folder, temporary::OWNER).map_err(disk)?;
    hook(Step::Made, real);
    attributes::keep(real, &there, file.as_file()).map_err(|error| Left::Owner(reason(&error)))?;
    file.write_all(one.now).map_err(disk)?;
    // Whoever is no superuser loses bits of the mode by writing, as those that make a file run as its group.
    file.as_file().set_permissions(there.permissions()).map_err(|error| Left::Owner(reason(&error)))?;
    file.as_file().sync_all().map_err(disk)?;
    let swap = Swap::name(real, one.was, one.now, file.path());
    // From here on the name says which two texts belong in the file, so that a later run knows any third one to be typed.
    drop(file.persist_noclobber(&swap).map_err(|failed| disk(failed.error))?);
    let give_up = |left: Left| {
        let _ = fs::remove_file(&swap);
        left
    };
    if !holds(real, one.was) {
        return Err(give_up(Left::Changed));
    }
    hook(Step::Ready, real);
    let out = match exchange(&swap, real, means) {
        Ok(()) => swap.clone(),
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Err(give_up(Left::Changed)),
        Err(error) if unsupported(&error) => match instead(&swap, real, one, means) {
            Ok(Some(out)) => out,
            Ok(None) => return Ok(None),
            Err(left) => return Err(give_up(left)),
        },
        Err(error) => return Err(give_up(disk(error))),
    };
    hook(Step::Exchanged, real);
    if holds(&out, one.was) { Ok(Some(out)) } else { Err(back(&out, real, one.now, means, hook)) }
}

/// Puts back what came out and was not what had been read. Whatever is the newest stays the ledger, and nothing goes.
pub(super) fn back(swap: &Path, real: &Path, now: &[u8], means: Means, hook: Hook<'_>) -> Left {
    let done = match exchange(swap, real, means) {
        Err(error) if error.kind() == io::ErrorKind::NotFound && fs::symlink_metadata(real).is_err() => {
            // Somebody has removed what had taken its place: what was typed is all there is.
            return fs::hard_link(swap, real)
                .and_then(|()| fs::remove_file(swap))
                .map_or_else(|_| Left::Kept(swap.to_owned()), |()| Left::Changed);
        }
        Err(error) if unsupported(&error) && holds(real, now) => {
            return fs::rename(swap, real).map_or_else(|_| Left::Kept(swap.to_owned()), |()| Left::Changed);
        }
        done => done,
    };
    if done.is_err() {
        return Left::Kept(swap.to_owned());
    }
    hook(Step::Back, real);
    if holds(swap, now) {
        let _ = fs::remove_file(swap);
        return Left::Changed;
    }
    let _ = exchange(swap, real, means);
    Left::Kept(swap.to_owned())
}

/// Where two files cannot be exchanged: a second name for the ledger keeps what comes out, if the disk knows second names;
/// a change by rename between the two steps is then lost. Without second names a change by hand is, too.
fn instead(new: &Path, real: &Path, one: &Rewrite<'_>, means: Means) -> Result<Option<PathBuf>, Left> {
    let out = Swap::name(real, one.was, one.now, Path::new("second-name"));
    let link = |out: &Path| if means == Means::Rename { Err(no()) } else { fs::hard_link(real, out) };
    let linked = match link(&out) {
        Ok(()) => Some(out),
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => return Err(Left::Kept(out)),
        Err(_) => None,
    };
    let same = holds(linked.as_deref().unwrap_or(real), one.was);
    let done = if same {
        fs::rename(new, real).map_err(|error| Left::Disk(reason(&error)))
    } else {
        Err(Left::Changed)
    };
    if let (Err(_), Some(out)) = (&done, &linked) {
        let _ = fs::remove_file(out);
    }
    done.map(|()| linked)
}

/// Exchanges two files in one step.
#[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
fn exchange(one: &Path, other: &Path, means: Means) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    if means != Means::Exchange {
        return Err(no());
    }
    renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE).map_err(io::Error::from)
}

#[cfg(not(any(target_os = "linux", target_os = "android", target_vendor = "apple")))]
fn exchange(_: &Path, _: &Path, _: Means) -> io::Result<()> {
    Err(no())
}

fn no() -> io::Error {
    io::ErrorKind::Unsupported.into()
}

/// Whether the disk, or the system, knows no exchange.
fn unsupported(error: &io::Error) -> bool {
    matches!(error.kind(), io::ErrorKind::Unsupported | io::ErrorKind::InvalidInput)
}
