//! Asked about one file of a book, the whole of it is read, and what is wrong in that file is said.

use super::said;
use std::fs;
use std::path::{Path, PathBuf};

/// A fresh folder with these files.
fn files(name: &str, files: &[(&str, &str)]) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("home").join(name);
    let _ = fs::remove_dir_all(&folder);
    for (path, text) in files {
        let path = folder.join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
    folder
}

const SHOP: (&str, &str) = ("shop.sline", "\u{feff}Shop \"S\"\ncar heron \"Heron\"\n");
const HERON: &str = "2025-05-03 heron\n  set camber LF -3 deg\n";

fn check(path: &Path, more: &[&str]) -> (String, String) {
    let typed = path.display().to_string();
    let said = said(&[&["check", &typed], more].concat());
    (said.out + &said.err, said.code)
}

#[test]
fn one_file_of_a_book_is_read_with_the_rest() {
    let good = said(&["check", "tests/fixtures/command/book"]).code;
    let bad = said(&["check", "tests/fixtures/command/broken"]).code;
    let folder = files(
        "book",
        &[SHOP, ("heron.sline", HERON), ("wren.sline", "2025-05-03 wren\n  set camber LF -3 deg\n")],
    );
    assert_eq!(
        check(&folder.join("heron.sline"), &[]),
        ("heron.sline: nothing wrong; in the other files of its book 1 error\n".into(), good.clone())
    );
    assert_eq!(check(&folder.join("heron.sline"), &["--strict"]).1, good);
    let (said_of, code) = check(&folder.join("wren.sline"), &[]);
    assert!(said_of.starts_with("wren.sline: 1 error\n") && said_of.contains("wren.sline:1:12"), "{said_of}");
    assert_eq!(code, bad);
    // What programs read is of that file too.
    assert_eq!(check(&folder.join("heron.sline"), &["--format", "short"]).0, "");
    assert_eq!(check(&folder.join("wren.sline"), &["--format", "short"]).0.lines().count(), 1);
    // The whole book says all of it.
    assert_eq!(check(&folder, &[]).1, bad);
    // Other commands read the book, too.
    let state = |path: &Path| said(&["state", &path.display().to_string(), "heron"]).out;
    let whole = state(&folder);
    assert!(whole.contains("wren.sline:2"), "{whole}");
    assert_eq!(state(&folder.join("heron.sline")), whole);
    assert_eq!(state(&folder.join("shop.sline")), whole);
}

/// A mistake that stands between two files is told of either.
#[test]
fn a_quarrel_of_two_files_is_told_of_each() {
    let folder = files(
        "quarrel",
        &[SHOP, ("a.sline", HERON), ("b.sline", "2025-05-04 heron\n  set camber LF -2 -> -3.5 deg\n")],
    );
    for file in ["a.sline", "b.sline"] {
        let (said, _) = check(&folder.join(file), &[]);
        assert!(said.contains("old-value-differs"), "{file}: {said}");
    }
    assert!(!check(&folder.join("shop.sline"), &[]).0.contains("old-value-differs"));
}

/// A file that is alone in its folder is a book of its own; so is each beside which nobody, or more than one, declares a shop.
#[test]
fn a_file_that_is_no_part_of_a_book_stands_alone() {
    let own = "shop \"S\"\ncar heron \"Heron\"\n2025-05-03 heron\n  set camber LF -3 deg\n";
    let folder = files("alone", &[("one.sline", own), ("two.sline", own), ("three.sline", HERON)]);
    assert!(check(&folder.join("one.sline"), &[]).0.starts_with("1 car, "));
    assert!(check(&folder.join("three.sline"), &[]).0.starts_with("0 cars, "));
    let folder = files("single", &[("one.sline", own)]);
    assert!(check(&folder.join("one.sline"), &[]).0.starts_with("1 car, "));
    let folder = files("none", &[("a.sline", "car heron \"Heron\"\n"), ("b.sline", HERON)]);
    assert!(check(&folder.join("b.sline"), &[]).0.starts_with("0 cars, "));
}

/// In a folder below the book's, as far as the git work tree goes.
#[test]
fn a_folder_below_is_of_the_book_that_git_keeps_it_with() {
    let folder = files("tree", &[SHOP, ("cars/heron.sline", HERON), (".git/HEAD", "")]);
    let said = check(&folder.join("cars/heron.sline"), &[]).0;
    assert_eq!(said, "cars/heron.sline: nothing wrong\n");
    fs::remove_dir_all(folder.join(".git")).unwrap();
    let own = files("tree/cars/deep", &[("heron.sline", HERON), (".git/HEAD", "")]);
    assert!(check(&own.join("heron.sline"), &[]).0.starts_with("0 cars, "));
}
