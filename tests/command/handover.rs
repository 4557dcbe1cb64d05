//! handover: the book that goes with a car, to the terminal or into a file.

use super::{holds, said};
use serde_json::Value;
use std::path::Path;

/// A car that was sold, one that was not.
const BOOK: &str = "tests/fixtures/command/sold";

#[test]
fn what_is_not_there() {
    holds("handover-somebody-else", &["handover", BOOK, "heron", "--to", "cole"]);
    holds("handover-no-client", &["handover", BOOK, "heron", "--to", "col"]);
    holds("handover-no-car", &["handover", BOOK, "herron"]);
    assert_eq!(said(&["handover"]).code, "2");
    assert_eq!(said(&["handover", BOOK, "heron", "wren"]).code, "2");
}

#[test]
fn into_a_file() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("handover");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("heron.html");
    let first = said(&["handover", BOOK, "heron", "--out", file.to_str().unwrap()]);
    assert_eq!((first.code.as_str(), first.err.as_str()), ("0", ""));
    assert!(first.out.starts_with("hand-over book of heron written: "), "{}", first.out);
    assert_eq!(std::fs::read_to_string(&file).unwrap(), said(&["handover", BOOK, "heron"]).out);
    let nowhere = folder.join("no/such/folder.html");
    let failed = said(&["handover", BOOK, "heron", "--out", nowhere.to_str().unwrap()]);
    assert_eq!(failed.code, "2");
    assert!(failed.err.contains("cannot write"), "{}", failed.err);
}

#[test]
fn for_programs_and_with_what_is_asked_for() {
    let view = |words: &[&str]| -> Value {
        let mut all = vec!["handover", BOOK];
        all.extend(words);
        all.extend(["--format", "json"]);
        serde_json::from_str(&said(&all).out).unwrap()
    };
    let plain = view(&["heron"]);
    assert_eq!(plain["buyer"], "Ben Cray");
    assert_eq!(plain["prices"], false);
    assert_eq!(plain["present"][0]["price"], "");
    assert_eq!(plain["bench"], Value::Array(Vec::new()));
    let full = view(&["heron", "--to", "ben", "--include", "prices", "--include", "bench"]);
    assert_eq!(full["present"][0]["price"], "38.00 EUR");
    assert_eq!(full["bench"][0]["verb"], "bench");
    let unsold = view(&["wren", "--to", "ben"]);
    assert_eq!((&unsold["buyer"], &unsold["sold"]), (&"Ben Cray".into(), &"".into()));
}

/// A template of the shop's own takes its place, and a fault in it is told.
#[test]
fn in_the_shops_own_looks() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("handover-own");
    std::fs::create_dir_all(&folder).unwrap();
    let own = folder.to_str().unwrap();
    std::fs::write(folder.join("handover.html"), "<p>{{ buyer }}</p>").unwrap();
    let ours = said(&["handover", BOOK, "heron", "--templates", own]);
    assert_eq!((ours.out.as_str(), ours.code.as_str()), ("<p>Ben Cray</p>", "0"));
    std::fs::write(folder.join("handover.html"), "<p>{{ byer }}</p>").unwrap();
    let wrong = said(&["handover", BOOK, "heron", "--templates", own]);
    assert_eq!((wrong.out.as_str(), wrong.code.as_str()), ("", "2"));
    assert!(wrong.err.contains("handover.html:1: the page's view has no such value"), "{}", wrong.err);
}
