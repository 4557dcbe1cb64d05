//! `diff CAR MOMENT OUTFIT`: the car as it stood at that moment, with the outfit on, whatever the book says of later days.

use super::said_on;
use std::path::{Path, PathBuf};

const HEAD: &str = "car heron \"Heron\"
kind spring \"spring\"  fits LF RF  gives spring-rate
part s-1 spring  opening new  tag spring-rate 60 N/mm
part s-2 spring  opening new  tag spring-rate 60 N/mm
part w-1 spring  opening new  tag spring-rate 45 N/mm
";
const WET: &str = "outfit wet heron \"wet\"
  fit w-1 LF
  set bar-hole rear 3
";
const FIRST: &str = "2025-05-03 heron
  fit s-1 LF
  set bar-hole rear 2
  set camber LF -1.0 deg
";

/// The files in a folder of their own.
fn put(name: &str, files: &[(&str, String)]) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("tried").join(name);
    std::fs::remove_dir_all(&folder).ok();
    std::fs::create_dir_all(&folder).unwrap();
    for (file, text) in files {
        std::fs::write(folder.join(file), text).unwrap();
    }
    folder
}

fn diff(folder: &Path, from: &str) -> String {
    let said = said_on(&["diff", folder.to_str().unwrap(), "heron", from, "wet"], 96, "2025-06-20T12:00:00Z");
    assert!(said.out.contains("bar-hole"), "{}\n{}", said.out, said.err);
    said.out
}

/// A book, and the same that ends with the day that is asked about, in one file, in three, and with the outfit's file read last.
#[test]
fn what_came_after_the_moment_changes_nothing() {
    for (at, later) in [
        "2025-05-10 heron\n  set bar-hole rear 5\n  set ride-height front 60 mm\n",
        "2025-05-10 heron\n  fit s-2 RF\n",
        "2025-05-04 heron\n  fit wet\n",
        "2025-05-04 heron\n  set camber LF -2.0 deg\n  fit wet\n  set camber LF -3.0 deg\n",
        "2025-05-04 heron\n  fit wet\n2025-05-05 heron\n  fit wet\n  set bar-hole rear 4\n",
    ]
    .into_iter()
    .enumerate()
    {
        let one = |more: &str| vec![("a.sline", format!("{HEAD}{WET}{FIRST}{more}"))];
        let three = |more: &str| {
            let last = format!("{FIRST}{more}");
            vec![("a.sline", HEAD.to_owned()), ("b.sline", WET.to_owned()), ("c.sline", last)]
        };
        let behind =
            |more: &str| vec![("a.sline", format!("{HEAD}{FIRST}{more}")), ("b.sline", WET.to_owned())];
        let books: [&dyn Fn(&str) -> Vec<(&'static str, String)>; 3] = [&one, &three, &behind];
        for (way, book) in books.into_iter().enumerate() {
            let whole = put(&format!("{at}-{way}-whole"), &book(later));
            let ended = put(&format!("{at}-{way}-ended"), &book(""));
            assert_eq!(diff(&whole, "2025-05-03"), diff(&ended, "2025-05-03"), "{way}\n{later}");
        }
    }
}

/// As of the day on which it was fitted there is nothing to change.
#[test]
fn an_outfit_that_is_on_changes_nothing() {
    let book = [("a.sline", format!("{HEAD}{WET}{FIRST}2025-05-04 heron\n  fit wet\n"))];
    let folder = put("worn", &book);
    let said = said_on(
        &["diff", folder.to_str().unwrap(), "heron", "2025-05-04", "wet"],
        96,
        "2025-06-20T12:00:00Z",
    );
    assert!(!said.out.contains("bar-hole") && !said.out.contains("w-1"), "{}", said.out);
}
