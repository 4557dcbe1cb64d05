//! Texts laid over a folder: what counts as empty, and what cannot be read.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use stringline::source::{Overlay, World as _};

fn loaded(root: &Path) -> Result<usize, String> {
    let texts = BTreeMap::from([(root.join("a.sline"), "car heron \"Heron\"\n".to_owned())]);
    let world = Overlay { root: root.to_owned(), texts, now: None };
    world.load().map(|(files, _)| files.iter().count())
}

#[test]
fn a_folder_that_is_not_there_yet_is_empty() {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(loaded(&folder.path().join("later")), Ok(1));
    let file = folder.path().join("plain");
    std::fs::write(&file, "").unwrap();
    assert_eq!(loaded(&file), Ok(1));
}

#[cfg(unix)]
#[test]
fn a_folder_that_cannot_be_opened_is_no_empty_one() {
    let folder = tempfile::tempdir().unwrap();
    let round = folder.path().join("round");
    std::os::unix::fs::symlink("round", &round).unwrap();
    let said = loaded(&round).unwrap_err();
    assert!(said.starts_with(&format!("the folder `{}` cannot be opened: ", round.display())), "{said}");
}

/// A name that is no path from the top of the disk is no folder: whatever lies under it where the program runs is another's.
#[test]
fn only_a_whole_path_is_read() {
    let known = PathBuf::from("ledgers");
    assert!(known.is_dir());
    assert_eq!(loaded(&known), Ok(1));
}
