//! Every check has fixtures that show it firing and not firing.
//!
//! `tests/fixtures/checks/NAME.sline` has three books, each below a line `# --- PART`:
//! - `fires`: a small book; lines that must be spoken about end in `# <- NAME` (several with commas). Exactly those
//!   messages are allowed, no others. A message about the book as a whole is stated by a first line `# <- NAME`.
//!   A line `# === NAME.sline` begins another file of the book.
//! - `quiet`: a book near to it; no message of that check (others only where marked).
//! - `demo`: lines added to the demo book as one more file: exactly one message more than the demo has.

mod disk;
mod honest;
mod misled;
mod normal;
mod worded;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use stringline::check::CHECKS;
use stringline::source::{Memory, World};
use stringline::{Compiled, compile};

/// Checks whose trouble no ledger text can show; each has a test of its own in `disk.rs`.
const SHOWN_ELSEWHERE: [&str; 4] = ["file-unreadable", "folder-loop", "line-too-long", "not-utf8"];

/// Fixed instant of every test: 2026-12-01T12:00Z, after the demo season.
pub fn now() -> jiff::Timestamp {
    "2026-12-01T12:00:00Z".parse().unwrap()
}

pub fn compile_text(text: &str) -> Compiled {
    // Every further file begins with as many blank lines as stand above it, so that line numbers are the fixture's.
    let mut files = vec![("book.sline".to_owned(), String::new())];
    for (index, line) in text.lines().enumerate() {
        if let Some(name) = line.strip_prefix("# === ") {
            files.push((name.trim().to_owned(), "\n".repeat(index)));
        }
        let last = &mut files.last_mut().unwrap().1;
        last.push_str(line);
        last.push('\n');
    }
    let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    compile(&Memory::new(&files, now())).unwrap()
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/checks")
}

/// (line, check) pairs that a fixture's own comments expect.
fn expected(text: &str) -> Vec<(u32, String)> {
    let mut all = Vec::new();
    for (index, line) in text.lines().enumerate() {
        if let Some((_, names)) = line.split_once("# <- ") {
            let at = if line.starts_with("# <- ") { 0 } else { index as u32 + 1 };
            all.extend(names.split(',').map(|name| (at, name.trim().to_owned())));
        }
    }
    all.sort();
    all
}

fn found(compiled: &Compiled) -> Vec<(u32, String)> {
    let mut all: Vec<(u32, String)> = compiled
        .diagnostics
        .iter()
        .map(|one| {
            let line = one.at.as_ref().map_or(0, |mark| compiled.files.line(mark.span));
            (line, one.check.to_owned())
        })
        .collect();
    all.sort();
    all
}

/// A part of a check's fixture.
fn fixture(name: &str, part: &str) -> Option<String> {
    let text = std::fs::read_to_string(root().join(format!("{name}.sline"))).ok()?;
    let text = format!("\n{text}");
    let (_, rest) = text.split_once(&format!("\n# --- {part}\n"))?;
    Some(rest.split_inclusive('\n').take_while(|line| !line.starts_with("# --- ")).collect())
}

#[test]
fn every_check_has_its_fixtures_and_they_say_what_they_must() {
    let mut wrong = Vec::new();
    for check in CHECKS.iter().filter(|check| !SHOWN_ELSEWHERE.contains(&check.name)) {
        for file in ["fires", "quiet"] {
            let Some(text) = fixture(check.name, file) else {
                wrong.push(format!("{}: no {file}", check.name));
                continue;
            };
            let compiled = compile_text(&text);
            let (want, got) = (expected(&text), found(&compiled));
            if want != got {
                wrong.push(format!("{}/{file}:\n  expected {want:?}\n  found    {got:?}", check.name));
            }
            let speaks = got.iter().any(|(_, name)| name == check.name);
            if speaks != (file == "fires") {
                wrong.push(format!("{}/{file}: {}", check.name, if speaks { "speaks" } else { "is silent" }));
            }
            let badly = worded::badly_worded(&compiled);
            wrong.extend(badly.iter().map(|fact| format!("{}/{file}: {fact}", check.name)));
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn what_is_shown_elsewhere_is_a_check() {
    for name in SHOWN_ELSEWHERE {
        assert!(stringline::check::find(name).is_some(), "{name}");
        assert!(fixture(name, "fires").is_none(), "{name} has a fixture after all");
    }
}

/// The demo book with one more file gives exactly one more message.
#[test]
fn added_to_the_demo_book_each_makes_one_message() {
    let demo = stringline::source::Disk { root: Path::new(env!("CARGO_MANIFEST_DIR")).join("ledgers/2026") };
    let (files, _) = demo.load().unwrap();
    let base: Vec<(String, String)> =
        files.iter().map(|(_, file)| (file.path.clone(), file.text.clone())).collect();
    let count = |extra: Option<&str>| {
        let mut all: Vec<(&str, &str)> =
            base.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
        if let Some(extra) = extra {
            all.push(("zz-added.sline", extra));
        }
        let compiled = compile(&Memory::new(&all, now())).unwrap();
        // By check and place: a message that was there already may count otherwise with more lines in the book.
        let mut counts: BTreeMap<(String, String), (u32, String)> = BTreeMap::new();
        for one in &compiled.diagnostics {
            let place = one.at.as_ref().map_or_else(String::new, |mark| {
                format!("{}:{:?}", compiled.files.path(mark.span.file), (mark.span.start, mark.span.end))
            });
            let entry = counts.entry((one.check.to_owned(), place)).or_default();
            *entry = (entry.0 + 1, one.message.clone());
        }
        counts
    };
    let before = count(None);
    let mut wrong = Vec::new();
    for check in CHECKS.iter() {
        let Some(text) = fixture(check.name, "demo") else { continue };
        let after = count(Some(&text));
        let more: Vec<String> = after
            .iter()
            .filter(|(key, (n, _))| before.get(*key).map_or(0, |(n, _)| *n) < *n)
            .map(|((name, _), (_, message))| format!("{name}: {message}"))
            .collect();
        let own = more.iter().filter(|message| message.starts_with(&format!("{}: ", check.name))).count();
        if more.len() != 1 || own != 1 {
            wrong.push(format!("{}: {more:#?}", check.name));
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn names_are_kebab_case_and_unique() {
    let mut names: Vec<&str> = CHECKS.iter().map(|check| check.name).collect();
    names.sort_unstable();
    let count = names.len();
    names.dedup();
    assert_eq!(names.len(), count);
    for name in names {
        assert!(name.bytes().all(|byte| matches!(byte, b'a'..=b'z' | b'0'..=b'9' | b'-')), "{name}");
    }
}
