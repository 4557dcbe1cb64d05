//! The book that a ledger lives in: asked about one file of it, the whole of it is read.
//!
//! Must not know what is asked.

use crate::source::is_ledger;
use std::fs;
use std::path::{Path, PathBuf};

/// A book as it is asked about: its folder, or its one file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Home {
    /// What is read.
    pub root: PathBuf,
    /// The one file of it that was named, below the folder.
    pub file: Option<PathBuf>,
}

/// The book of what was given, or the current folder. A file is of the folder's book where one file there declares the shop; where none does, or
/// more than one, each is a book of its own. Above its own folder the shop is looked for inside the git work tree alone.
pub(super) fn home(given: Option<&Path>) -> Home {
    let given = given.unwrap_or_else(|| Path::new("."));
    in_folder(given).unwrap_or_else(|| Home { root: given.to_owned(), file: None })
}

/// The folder of the book of what was given, or the current one.
pub(super) fn folder(given: Option<&Path>) -> PathBuf {
    home(given).root
}

fn in_folder(given: &Path) -> Option<Home> {
    if !is_ledger(given) || !given.is_file() {
        return None;
    }
    let whole = std::path::absolute(given).ok()?;
    let above = || whole.ancestors().skip(1);
    let tree = above().position(|folder| folder.join(".git").exists()).map_or(1, |at| at + 1);
    let at = above().take(tree).position(|folder| has_one_shop(folder, &whole))?;
    let root = above().nth(at)?;
    // The folder as it would have been typed, so that messages name it alike.
    let typed = given
        .ancestors()
        .nth(at + 1)
        .filter(|typed| fs::canonicalize(typed).ok() == fs::canonicalize(root).ok());
    let typed = typed.map_or_else(|| root.to_owned(), Path::to_owned);
    Some(Home { root: typed, file: whole.strip_prefix(root).ok().map(Path::to_owned) })
}

/// Whether one ledger of a folder, and no more, declares a shop, and the file is not the only one there.
fn has_one_shop(folder: &Path, file: &Path) -> bool {
    let Ok(found) = fs::read_dir(folder) else { return false };
    let ledgers = found.flatten().map(|one| one.path()).filter(|path| is_ledger(path) && path.is_file());
    let (shops, others): (Vec<_>, Vec<_>) = ledgers.partition(|path| declares_shop(path));
    shops.len() == 1 && !(others.is_empty() && shops.iter().all(|shop| shop == file))
}

/// Whether a line at the margin of a file declares a shop.
fn declares_shop(file: &Path) -> bool {
    let text = fs::read(file).unwrap_or_default();
    let text = text.strip_prefix("\u{feff}".as_bytes()).unwrap_or(&text);
    text.split(|byte| *byte == b'\n').any(|line| {
        let (word, rest) = line.split_at(line.len().min(4));
        word.eq_ignore_ascii_case(b"shop") && rest.first().is_none_or(u8::is_ascii_whitespace)
    })
}
