//! The folder of CSV files: whose it is, what is left, and that nothing is lost.

use crate::command::{Said, said_on};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use stringline::tables::TABLES;

const BOOK: &str = "tests/fixtures/command/book";

fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("tables-folder").join(name);
    let _ = std::fs::remove_dir_all(&folder);
    folder
}

fn write(book: &str, out: &Path, more: &[&str]) -> Said {
    said_on(&[&["tables", book, "--out", out.to_str().unwrap()], more].concat(), 96, "2025-06-20T12:00:00Z")
}

fn bytes(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let all = std::fs::read_dir(folder).unwrap().map(|one| one.unwrap().path());
    all.map(|path| (path.file_name().unwrap().to_string_lossy().into_owned(), std::fs::read(&path).unwrap()))
        .collect()
}

fn refused(book: &str, out: &Path, more: &[&str], words: &str) {
    let before = bytes(out);
    let said = write(book, out, more);
    assert_eq!((said.code.as_str(), said.out.as_str()), ("2", ""), "{}", said.err);
    assert!(said.err.contains(words), "{}", said.err);
    assert!(bytes(out) == before, "{words}");
}

#[test]
fn a_folder_has_one_readers_tables_and_nothing_else() {
    let out = folder("whose");
    let first = write(BOOK, &out, &[]);
    assert_eq!((first.code.as_str(), first.err.as_str()), ("0", ""));
    assert!(first.out.starts_with(&format!("{} tables with ", TABLES.len())), "{}", first.out);
    let there = bytes(&out);
    assert_eq!(there.len(), TABLES.len() + 1);
    assert!(write(BOOK, &out, &[]).out.contains(", all as they were; "));
    assert!(bytes(&out) == there);
    refused(BOOK, &out, &["--for", "orr"], "holds the tables of another reader");
    refused("ledgers/2026", &out, &[], "holds the tables of another book");
    std::fs::write(out.join("notes.txt"), "mine").unwrap();
    refused(BOOK, &out, &[], "holds other things than tables, such as notes.txt");
    std::fs::remove_file(out.join("notes.txt")).unwrap();
    let laps = out.join("laps.csv");
    let mut changed = std::fs::read(&laps).unwrap();
    changed.extend(b"my own row\r\n");
    std::fs::write(&laps, changed).unwrap();
    refused(BOOK, &out, &[], "laps.csv is not as it was written");
    // Taken away, it comes again.
    std::fs::remove_file(&laps).unwrap();
    assert!(write(BOOK, &out, &[]).out.contains(", 1 of them changed; "));
    assert!(bytes(&out) == there);
    // A book that has grown is the same book.
    let grown = folder("grown");
    std::fs::create_dir_all(&grown).unwrap();
    for entry in std::fs::read_dir(BOOK).unwrap() {
        let path = entry.unwrap().path();
        std::fs::copy(&path, grown.join(path.file_name().unwrap())).unwrap();
    }
    std::fs::write(grown.join("zz.sline"), "2025-06-19 heron\n  set camber LF -3.3 deg\n").unwrap();
    let said = write(grown.to_str().unwrap(), &out, &[]);
    assert!(said.out.contains(" of them changed"), "{}{}", said.out, said.err);
}

#[test]
fn a_folder_of_ledgers_is_refused_and_a_damaged_list_too() {
    let out = folder("ledgers");
    std::fs::create_dir_all(&out).unwrap();
    std::fs::write(out.join("a.sline"), "car a \"A\"\n").unwrap();
    refused(BOOK, &out, &[], "holds other things than tables, such as a.sline");
    std::fs::remove_file(out.join("a.sline")).unwrap();
    std::fs::write(out.join(".stringline-tables"), "stringline tables 1\ntable x ../../etc/passwd.csv\n")
        .unwrap();
    refused(BOOK, &out, &[], ".stringline-tables:2 is damaged");
}

/// A run that was killed between two renames: the list knows the old and the new of each, and the next run goes on.
#[test]
fn a_run_that_was_killed_is_gone_on_with() {
    let (old, new, out) = (folder("old"), folder("new"), folder("killed"));
    let grown = folder("killed-book");
    std::fs::create_dir_all(&grown).unwrap();
    for entry in std::fs::read_dir(BOOK).unwrap() {
        let path = entry.unwrap().path();
        std::fs::copy(&path, grown.join(path.file_name().unwrap())).unwrap();
    }
    let book = grown.to_str().unwrap();
    assert_eq!(write(book, &old, &[]).code, "0");
    std::fs::write(grown.join("zz.sline"), "2025-06-19 heron\n  set camber LF -3.3 deg\n").unwrap();
    assert_eq!(write(book, &new, &[]).code, "0");
    let (before, after) = (bytes(&old), bytes(&new));
    std::fs::create_dir_all(&out).unwrap();
    let list =
        |all: &BTreeMap<String, Vec<u8>>| String::from_utf8(all[".stringline-tables"].clone()).unwrap();
    let tables =
        |text: &str| text.split_inclusive('\n').filter(|line| line.starts_with("table ")).collect::<String>();
    std::fs::write(out.join(".stringline-tables"), list(&before) + &tables(&list(&after))).unwrap();
    for (index, name) in before
        .keys()
        .filter(|name| Path::new(name.as_str()).extension().is_some_and(|end| end == "csv"))
        .enumerate()
    {
        let from = if index % 2 == 0 { &before } else { &after };
        std::fs::write(out.join(name), &from[name]).unwrap();
    }
    std::fs::write(out.join(".stringline-abcdefghijkl.part"), "half a table").unwrap();
    let said = write(book, &out, &[]);
    assert_eq!(said.code, "0", "{}", said.err);
    let mut done = bytes(&out);
    let mut wanted = after;
    // The list remembers heads of both runs, and may have them in another order of coming.
    done.remove(".stringline-tables");
    wanted.remove(".stringline-tables");
    assert!(done == wanted);
}

#[test]
fn errors_do_not_withhold_the_tables() {
    let out = folder("broken");
    let said = write("tests/fixtures/command/broken", &out, &[]);
    assert_eq!(said.code, "1");
    assert!(said.err.contains("the book has 1 error"), "{}", said.err);
    assert!(out.join("settings.csv").exists());
    let json = write("tests/fixtures/command/broken", &out, &["--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!((json["tables"].as_array().unwrap().len(), &json["errors"]), (TABLES.len(), &1.into()));
}

#[test]
fn as_of_a_day_nothing_later_is_there() {
    let out = folder("day");
    // Setups that are named there after events still to come are not there yet, and no mistake.
    assert_eq!(write("ledgers/2026", &out, &["--at", "2026-06-01"]).code, "0");
    let all = std::fs::read_to_string(out.join("sessions.csv")).unwrap();
    assert!(all.contains("2026-05-10") && !all.contains("2026-06-06"));
    assert!(std::fs::read_to_string(out.join("book.csv")).unwrap().contains("2026-06-01"));
}
