//! Checks on what no ledger text can show: unreadable files, links, bytes that are no text, lines without an end.

use super::now;
use std::fs;
use std::path::PathBuf;
use stringline::diagnostics::{Diagnostic, Severity};
use stringline::source::{Disk, Files, LoadTrouble, SourceFile, World};
use stringline::{Compiled, compile};

const BOOK: &str = "car heron \"Heron\"\n\n2025-05-03 heron\n  set fuel 20 L\n";

/// A book of one good ledger whose folder gave trouble.
struct Troubled(Vec<LoadTrouble>);

impl World for Troubled {
    fn load(&self) -> Result<(Files, Vec<LoadTrouble>), String> {
        let good = SourceFile { path: "good.sline".to_owned(), text: BOOK.to_owned() };
        Ok((Files::new(vec![good]), self.0.clone()))
    }

    fn now(&self) -> jiff::Timestamp {
        now()
    }
}

/// A folder on disk for one test, removed at the end, at the tests' instant.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let root = std::env::temp_dir().join(format!("stringline-check-{}-{name}", std::process::id()));
        let _ = fs::remove_dir_all(&root);
        fs::create_dir_all(&root).unwrap();
        Self(root)
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

impl World for Folder {
    fn load(&self) -> Result<(Files, Vec<LoadTrouble>), String> {
        Disk { root: self.0.clone() }.load()
    }

    fn now(&self) -> jiff::Timestamp {
        now()
    }
}

/// The only message of that check; any message of another is a failure.
fn only<'a>(compiled: &'a Compiled, check: &str) -> &'a Diagnostic {
    let all = &compiled.diagnostics;
    assert_eq!(all.len(), 1, "{all:#?}");
    assert_eq!(all[0].check, check);
    assert_eq!(super::worded::badly_worded(compiled), Vec::<String>::new());
    // The rest of the book is read all the same.
    assert!(!compiled.book.cars.is_empty());
    &all[0]
}

#[test]
fn an_unreadable_file_is_named_with_the_reason() {
    let trouble = LoadTrouble::Unreadable {
        path: "old/quern-1.sline".to_owned(),
        reason: "permission denied".to_owned(),
    };
    let compiled = compile(&Troubled(vec![trouble])).unwrap();
    let message = only(&compiled, "file-unreadable");
    assert_eq!(message.severity, Severity::Error);
    assert!(message.at.is_none());
    assert!(message.message.contains("old/quern-1.sline") && message.message.contains("permission denied"));
}

#[test]
fn a_link_back_into_the_book_is_named() {
    let trouble = LoadTrouble::Loop { path: "season/again".to_owned() };
    let compiled = compile(&Troubled(vec![trouble])).unwrap();
    let message = only(&compiled, "folder-loop");
    assert!(message.at.is_none());
    assert!(message.message.contains("season/again"));
}

#[test]
fn bytes_that_are_no_text_are_pointed_at() {
    let folder = Folder::new("bytes");
    let mut bytes = BOOK.as_bytes().to_vec();
    // `6.2` and a degree sign as Windows-1252 writes it (0xB0), inside quotes.
    bytes.extend_from_slice(b"  think \"about 6.2\xB0 of it\" unsure\n");
    fs::write(folder.0.join("book.sline"), bytes).unwrap();
    let compiled = compile(&folder).unwrap();
    let message = only(&compiled, "not-utf8");
    assert_eq!(message.severity, Severity::Warning);
    let span = message.at.as_ref().unwrap().span;
    assert_eq!(compiled.files.line_column(span), (5, 19));
    assert_eq!(compiled.files.text(span), "\u{FFFD}");
}

#[test]
fn a_line_without_an_end_is_not_read() {
    for (length, fires) in [(65_535, false), (65_536, true)] {
        let line = format!("  | {}", "x".repeat(length - 4));
        assert_eq!(line.len(), length);
        let compiled = super::compile_text(&format!("{BOOK}{line}\n  set rake 12 mm\n"));
        if fires {
            let message = only(&compiled, "line-too-long");
            assert_eq!(compiled.files.line(message.at.as_ref().unwrap().span), 5);
        } else {
            assert!(compiled.diagnostics.is_empty());
        }
        // Its neighbours are read.
        assert_eq!(
            compiled.book.entries.iter().filter(|entry| !entry.broken).count(),
            2 + usize::from(!fires)
        );
    }
}

#[test]
fn a_folder_without_ledgers_is_an_empty_book() {
    let folder = Folder::new("empty");
    fs::write(folder.0.join("notes.txt"), BOOK).unwrap();
    let compiled = compile(&folder).unwrap();
    assert_eq!(compiled.diagnostics.len(), 1);
    assert_eq!(compiled.diagnostics[0].check, "book-empty");
    assert!(compiled.diagnostics[0].at.is_none());
}
