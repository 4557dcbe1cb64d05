//! Folders that are missing, shut, empty or go round in a ring; through the command, as a person meets them.

use super::now;
use std::os::unix::fs::{PermissionsExt as _, symlink};
use std::path::PathBuf;
use std::process::ExitCode;
use stringline::command::output::Output;
use stringline::command::run;

/// An empty folder of this test's own.
fn folder(name: &str) -> PathBuf {
    let folder = std::env::temp_dir().join(format!("stringline-hostile-{}-{name}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// Runs `check`: exit code, results, messages.
fn check(folder: &std::path::Path, format: &str) -> (ExitCode, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let arguments = ["stringline", "check", folder.to_str().unwrap(), "--format", format];
    let code = run(
        arguments.map(std::ffi::OsString::from),
        &mut Output {
            out: &mut out,
            err: &mut err,
            color: false,
            terminal: false,
            quiet: false,
            width: 100,
            now: Some(now()),
        },
    );
    (code, String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
}

#[test]
fn a_missing_folder_is_named() {
    let folder = folder("missing").join("nowhere");
    let (code, out, err) = check(&folder, "text");
    assert_eq!(format!("{code:?}"), format!("{:?}", ExitCode::from(2)));
    assert_eq!(out, "");
    assert!(err.contains("there is no folder") && err.contains("nowhere"), "{err}");
}

#[test]
fn an_empty_book_says_so() {
    let folder = folder("empty");
    let compiled = stringline::compile(&stringline::source::Disk { root: folder.clone() }).unwrap();
    assert!(
        compiled.book.missing.iter().any(|trouble| matches!(trouble.what, stringline::book::What::EmptyBook)),
        "{:?}",
        compiled.book.missing
    );
    super::render(&compiled);
    let (_, _, err) = check(&folder, "text");
    assert!(!err.contains("panicked"), "{err}");
}

#[test]
fn a_ring_of_links_is_not_walked_for_ever() {
    let folder = folder("ring");
    std::fs::write(folder.join("a.sline"), "shop \"A\"  currency EUR  zone Europe/Dublin\n").unwrap();
    std::fs::create_dir(folder.join("in")).unwrap();
    symlink(&folder, folder.join("in/back")).unwrap();
    let compiled = stringline::compile(&stringline::source::Disk { root: folder }).unwrap();
    assert_eq!(compiled.files.len(), 1);
    let troubles = format!("{:?}", compiled.book.missing);
    assert!(troubles.contains("Loop") && troubles.contains("in/back"), "{troubles}");
    super::render(&compiled);
}

#[test]
fn a_file_that_cannot_be_read_is_named() {
    let folder = folder("shut");
    let file = folder.join("shut.sline");
    std::fs::write(folder.join("open.sline"), "shop \"A\"  currency EUR  zone Europe/Dublin\n").unwrap();
    std::fs::write(&file, "car a \"A\"\n").unwrap();
    std::fs::set_permissions(&file, std::fs::Permissions::from_mode(0o0)).unwrap();
    if std::fs::read(&file).is_ok() {
        // The superuser may read everything: a link that leads nowhere is as unreadable to him.
        std::fs::remove_file(&file).unwrap();
        symlink(folder.join("gone"), &file).unwrap();
    }
    let compiled = stringline::compile(&stringline::source::Disk { root: folder }).unwrap();
    let troubles = format!("{:?}", compiled.book.missing);
    assert!(troubles.contains("Unreadable") && troubles.contains("shut.sline"), "{troubles}");
    // The rest of the book is read all the same.
    assert!(troubles.matches("What").count() <= 1);
    assert_eq!(compiled.book.shop.currency.map(stringline::money::Currency::code), Some("EUR"));
    super::render(&compiled);
}
