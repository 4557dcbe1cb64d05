//! Ids have types of their own, and no number stands for none.

use crate::source_text::rust;
use std::collections::BTreeMap;

/// The largest number, each time with its reason.
const LARGEST: [(&str, usize, &str); 5] = [
    ("src/book/read/line.rs", 1, "the most items of a line that are counted"),
    ("src/history/rank.rs", 1, "the moment after the last entry, later than every rank"),
    ("src/source/disk.rs", 1, "the longest file"),
    ("src/syntax/parse.rs", 1, "the most words of a line that are kept"),
    ("src/vocabulary/mod.rs", 1, "the most quantities there can be"),
];

/// What has an id of its own, and is a bare number only before the book is read.
const NAMED: [&str; 4] = ["entry: u32", "rank: u32", "item: u32", "head: u32"];

/// How often each file has one of the words.
fn with(words: &[&str]) -> BTreeMap<String, usize> {
    let count = |text: &str| words.iter().map(|word| text.matches(word).count()).sum::<usize>();
    rust("src")
        .iter()
        .map(|(path, text)| (path.clone(), count(text)))
        .filter(|(_, count)| *count > 0)
        .collect()
}

#[test]
fn no_number_stands_for_none() {
    let listed: BTreeMap<String, usize> =
        LARGEST.iter().map(|(path, count, _)| ((*path).to_owned(), *count)).collect();
    let found = with(&["u32::MAX", "u16::MAX"]);
    // A number that does not fit is taken as the most there can be where ids are made, for no list is so long.
    let found: BTreeMap<String, usize> = found.into_iter().filter(|(path, _)| path != "src/ids.rs").collect();
    assert_eq!(found, listed, "say `Option` or a named variant");
}

#[test]
fn what_has_an_id_is_no_bare_number() {
    let bare: Vec<String> = with(&NAMED).into_keys().filter(|path| path != "src/syntax/tree.rs").collect();
    assert_eq!(bare, Vec::<String>::new(), "`book::entry`, `history::rank` have their ids");
}
