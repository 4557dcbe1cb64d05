//! Texts laid over a folder: what counts as empty, and what cannot be read.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use stringline::source::{Overlay, World as _};

fn loaded(root: &Path) -> Result<usize, String> {
    let texts = BTreeMap::from([(root.join("a.sline"), "car heron \"Heron\"\n".to_owned())]);
    let world = Overlay { root: root.to_owned(), texts, now: None, most: None };
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

/// Where nobody chose the folder (a text at the top of a disk, say), it is left after so much, in a sentence.
#[test]
fn a_folder_that_holds_a_disk_is_no_book() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["b", "c", "d"] {
        std::fs::create_dir_all(folder.path().join(name).join("e")).unwrap();
    }
    let most = |most| {
        let texts = BTreeMap::from([(folder.path().join("a.sline"), "car heron \"Heron\"\n".to_owned())]);
        Overlay { root: folder.path().to_owned(), texts, now: None, most: Some(most) }
            .load()
            .map(|(files, _)| files.iter().count())
    };
    assert_eq!(most(7), Ok(1));
    let said = most(6).unwrap_err();
    assert!(
        said.ends_with(
            "it holds 6 files and folders or more: put the ledgers into a folder of their own and open that"
        ),
        "{said}"
    );
}
