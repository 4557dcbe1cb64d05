//! format: what `--check` shows, what is written, and that a file is replaced whole.

use super::{BOOK, holds, said};
use std::path::PathBuf;

const UNTIDY: &str = "tests/fixtures/command/untidy";

#[test]
fn check_shows_what_would_change() {
    holds("format-check", &["format", UNTIDY, "--check"]);
    holds("format-check-clean", &["format", BOOK, "--check"]);
    holds("format-json", &["format", UNTIDY, "--check", "--format", "json"]);
    holds("format-no-folder", &["format", "tests/fixtures/command/nowhere"]);
}

/// A folder of its own with the untidy book in it.
fn folder(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("format-{name}"));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(folder.join("below")).unwrap();
    std::fs::copy(format!("{UNTIDY}/book.sline"), folder.join("below/book.sline")).unwrap();
    folder
}

#[test]
fn it_writes_once_and_then_has_nothing_to_do() {
    let folder = folder("once");
    let book = folder.to_str().unwrap();
    let first = said(&["format", book]);
    assert_eq!((first.code.as_str(), first.err.as_str()), ("0", ""));
    assert_eq!(first.out, "below/book.sline\n1 of 1 file changed\n1 line with an error is left as typed\n");
    let text = std::fs::read_to_string(folder.join("below/book.sline")).unwrap();
    assert_eq!(
        text,
        "shop \"Hollin Lane Garage\"  currency EUR  zone Europe/Dublin\ncar heron \"Heron\"  units metric\n\n\
         2025-05-10 heron\n\tset wing-angle 6 deg  because it is  new\n\tset   fuel-pressure 3.5\n\t| A  note.  \n"
    );
    let second = said(&["format", book]);
    assert_eq!(second.out, "1 file, all laid out the usual way\n1 line with an error is left as typed\n");
    // Nothing is left beside it.
    let names: Vec<_> =
        std::fs::read_dir(folder.join("below")).unwrap().map(|one| one.unwrap().file_name()).collect();
    assert_eq!(names, ["book.sline"]);
}

#[test]
fn one_file_may_be_named() {
    let folder = folder("one");
    let file = folder.join("below/book.sline");
    let said = said(&["format", file.to_str().unwrap()]);
    assert_eq!(said.code, "0");
    assert!(std::fs::read_to_string(&file).unwrap().starts_with("shop \"Hollin"));
}

#[test]
fn bytes_that_are_no_text_are_left_alone() {
    let folder = folder("bytes");
    let file = folder.join("bad.sline");
    std::fs::write(&file, b"2025-05-10   heron\n  | caf\xE9\n").unwrap();
    for more in [&["--check"][..], &["--format", "json"], &[]] {
        let said = said(&[&["format", folder.to_str().unwrap()], more].concat());
        assert_eq!(said.code, "2", "{more:?}");
        assert_eq!(
            said.err,
            "stringline: `bad.sline` cannot be read and is left alone: it is not all UTF-8\n"
        );
        assert_eq!(std::fs::read(&file).unwrap(), b"2025-05-10   heron\n  | caf\xE9\n");
    }
    // The others have their layout.
    assert!(
        std::fs::read_to_string(folder.join("below/book.sline")).unwrap().contains("\n2025-05-10 heron\n")
    );
}

#[cfg(unix)]
#[test]
fn a_link_stays_a_link_and_permissions_stay() {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = folder("link");
    let real = folder.join("below/book.sline");
    std::fs::set_permissions(&real, std::fs::Permissions::from_mode(0o640)).unwrap();
    let book = folder.join("linked");
    std::fs::create_dir_all(&book).unwrap();
    std::os::unix::fs::symlink(&real, book.join("book.sline")).unwrap();
    assert_eq!(said(&["format", book.to_str().unwrap()]).code, "0");
    assert!(std::fs::symlink_metadata(book.join("book.sline")).unwrap().is_symlink());
    assert_eq!(std::fs::metadata(&real).unwrap().permissions().mode() & 0o777, 0o640);
    assert!(std::fs::read_to_string(&real).unwrap().contains("\n2025-05-10 heron\n"));
}
