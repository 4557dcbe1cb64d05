//! A type behind an answer or a page has a name of its own, and no import gives a name another one: what is read in one file is found in
//! all others.

use super::source::{Source, read};
use crate::source_text::rust;
use std::collections::BTreeMap;

/// Imports under another name, each with its reason. `as _` names nothing.
const LISTED: [(&str, &str, &str); 1] =
    [("src/units/kind.rs", "K", "a column of the table of kinds, two hundred times")];

fn sources() -> Vec<(String, Source)> {
    rust("src").into_iter().map(|(path, text)| (path, read(&text))).collect()
}

/// The plain public types that share a name, of which one is behind an answer or a page.
fn shared(sources: &[(String, Source)]) -> BTreeMap<&str, Vec<&str>> {
    let mut all: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for (path, source) in sources {
        for one in source.types.iter().filter(|one| one.public) {
            all.entry(&one.name).or_default().push(path);
        }
    }
    let shown = |path: &&str| path.starts_with("src/answer/") || path.starts_with("src/report/");
    all.retain(|_, paths| paths.len() > 1 && paths.iter().any(shown));
    all
}

#[test]
fn a_type_behind_an_answer_or_a_page_has_a_name_of_its_own() {
    let sources = sources();
    let shown = |path: &str| path.starts_with("src/answer/") || path.starts_with("src/report/");
    let count: usize = sources
        .iter()
        .filter(|(path, _)| shown(path))
        .map(|(_, source)| source.types.iter().filter(|one| one.public).count())
        .sum();
    assert!(count > 150, "{count} types: are they still found?");
    assert_eq!(shared(&sources), BTreeMap::new());
}

#[test]
fn no_import_gives_a_name_another_one() {
    let sources = sources();
    let mut found = Vec::new();
    for (path, source) in &sources {
        for import in &source.imports {
            let last = import.path.last().map_or("", String::as_str);
            if import.name != last && import.name != "_" {
                found.push((path.as_str(), import.name.as_str()));
            }
        }
    }
    found.sort_unstable();
    assert_eq!(found, LISTED.map(|(path, name, _)| (path, name)));
}

#[test]
fn a_shared_name_and_a_renamed_import_are_noticed() {
    let of = |path: &str, text: &str| (path.to_owned(), read(text));
    let files = [
        of("src/answer/one.rs", "pub struct Row;\nstruct Own;\n"),
        of("src/costs/row.rs", "pub enum Row {}\npub struct Other;\n"),
        of("src/book/other.rs", "pub struct Other;\npub struct Own;\n"),
    ];
    assert_eq!(shared(&files), BTreeMap::from([("Row", vec!["src/answer/one.rs", "src/costs/row.rs"])]));
    let renamed = read("use crate::a::{Row as Line, b::{self, C}};\n");
    let names: Vec<&str> = renamed.imports.iter().map(|import| import.name.as_str()).collect();
    assert_eq!(names, ["Line", "b", "C"]);
}
