//! Data flows one way: no stage names one to its right.
//!
//! The list is the order of `DEVELOPERS.md`; every folder and file right under `src` stands in it. What is at the crate's root, the compiled
//! book, comes after the checks and before whoever reads one.

mod circles;
mod ids;
mod names;
mod source;
mod verbs;
mod words;

use crate::source_text::rust;
use std::collections::BTreeMap;

/// From left to right; those of one row may not know each other either, but for what stands before in it.
const STAGES: [&str; 30] = [
    "ids",
    "sorted",
    "visible",
    "source",
    "units",
    "money",
    "syntax",
    "vocabulary",
    "statistics",
    "book",
    "history",
    "figures",
    "trials",
    "worth",
    "rules",
    "lives",
    "costs",
    "due",
    "diagnostics",
    "words",
    "transcribe",
    "check",
    "lib",
    "audience",
    "answer",
    "tables",
    "report",
    "board",
    "editor",
    "command",
];

/// What the crate's root gives: the compiled book and how it is made.
const ROOT: [&str; 4] = ["Compiled", "compile", "of_texts", "today"];

fn place(stage: &str) -> usize {
    let found = STAGES.iter().position(|one| *one == stage);
    found.unwrap_or_else(|| panic!("`{stage}` stands in no order of stages: say where it belongs"))
}

/// The items of a list in braces, of which the text begins after the first: those in braces of their own are part of one.
fn items(list: &str) -> Vec<&str> {
    let (mut items, mut deep, mut from) = (Vec::new(), 0, 0);
    for (at, c) in list.char_indices() {
        match c {
            ',' if deep == 0 => {
                items.push(&list[from..at]);
                from = at + 1;
            }
            '}' if deep == 0 => {
                items.push(&list[from..at]);
                return items;
            }
            '{' => deep += 1,
            '}' => deep -= 1,
            _ => {}
        }
    }
    items
}

/// What a text names of its own crate: the word after each `crate::`, and each of a list in braces.
fn named(text: &str) -> Vec<String> {
    let code: Vec<&str> = text.lines().map(|line| line.split("//").next().unwrap_or_default()).collect();
    let code = code.join("\n");
    let mut found = Vec::new();
    for rest in code.split("crate::").skip(1) {
        let list = rest.strip_prefix('{');
        for path in list.map_or_else(|| vec![rest], items) {
            let word: String = path.trim().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            if !word.is_empty() {
                found.push(word);
            }
        }
    }
    found
}

/// The stage of a name at the crate's root.
fn stage(name: &str) -> &str {
    if ROOT.contains(&name) { "lib" } else { name }
}

/// What each file names to its right.
fn backward(sources: &[(String, String)]) -> BTreeMap<String, Vec<String>> {
    let mut wrong: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (path, text) in sources {
        let own = path.split('/').next().unwrap_or_default().trim_end_matches(".rs");
        for name in named(text) {
            let other = stage(&name);
            if other != own && place(other) > place(own) {
                wrong.entry(path.clone()).or_default().push(name);
            }
        }
    }
    wrong
}

fn sources() -> Vec<(String, String)> {
    let below = |(path, text): (String, String)| Some((path.strip_prefix("src/")?.to_owned(), text));
    let all = rust("src").into_iter().filter_map(below);
    all.filter(|(path, _)| path != "main.rs" && path != "lib.rs").collect()
}

#[test]
fn no_stage_names_one_to_its_right() {
    let sources = sources();
    assert!(sources.len() > 100, "{}", sources.len());
    let wrong = backward(&sources);
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn a_name_to_the_right_is_noticed() {
    let text = |text: &str| vec![("check/one.rs".to_owned(), text.to_owned())];
    assert_eq!(backward(&text("use crate::answer::Line;\n"))["check/one.rs"], ["answer"]);
    assert_eq!(backward(&text("use crate::{book, report};\n"))["check/one.rs"], ["report"]);
    let nested = "use crate::{book::{Book, entry::{Head, Line}}, report::{self, section}, money};\n";
    assert_eq!(named(nested), ["book", "report", "money"]);
    assert_eq!(backward(&text(nested))["check/one.rs"], ["report"]);
    assert_eq!(backward(&text("let one = crate::Compiled;\n"))["check/one.rs"], ["Compiled"]);
    assert!(backward(&text("// crate::answer is for pages\nuse crate::book::Book;\n")).is_empty());
}

/// The stages that `src/lib.rs` declares are those of the list.
#[test]
fn every_stage_has_its_place() {
    let lib =
        std::fs::read_to_string(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/lib.rs")).unwrap();
    let declared =
        lib.lines().filter_map(|line| line.strip_prefix("pub mod ").or_else(|| line.strip_prefix("mod ")));
    for name in declared.filter_map(|name| name.strip_suffix(';')) {
        place(name);
    }
}
