//! `altered`: a correction is told with all it changes, and nothing else is.

use super::{BOOK, said_on};
use std::fs;
use std::path::Path;

const NOW: &str = "2025-12-01T12:00:00Z";

/// Two states of a book of one file.
fn told(then: &str, now: &str, more: &[&str]) -> String {
    let home = tempfile::tempdir().unwrap();
    let [old, new] = ["then", "now"].map(|name| home.path().join(name));
    for (folder, text) in [(&old, then), (&new, now)] {
        fs::create_dir_all(folder).unwrap();
        fs::write(folder.join("book.sline"), text).unwrap();
    }
    let words = ["altered", new.to_str().unwrap(), "--since", old.to_str().unwrap()];
    let said = said_on(&[words.as_slice(), more].concat(), 96, NOW);
    assert!(said.code != "2", "{}", said.err);
    said.out
}

const SHOP: &str = "client ames \"Ames\"\nclient orr \"Orr\"\n\
car wren \"Wren\"  client ames\n  motion-ratio 1 1\n  track 1500 1500 mm\ncar plover \"Plover\"  client orr\n\
circuit pell \"Pell\"  length 2 km\nevent pell-1 2025-04-12 at pell \"April\"\nevent pell-2 2025-06-14 at pell \"June\"\n\
kind spring \"spring\"  fits LF RF LR RR on wren  gives spring-rate\n\
part k1 spring  tag spring-rate 70 N/mm\npart k2 spring  tag spring-rate 70 N/mm\n\n\
2025-04-12 wren at pell-1\n  fit k1 LF\n  fit k2 RF\n  10:00..10:20 run s1  5 laps\n\n\
2025-06-14 wren at pell-2\n  10:00..10:20 run s1  5 laps\n  cost 100.00 EUR parts \"hose\"\n\n\
2025-06-15 plover\n  set camber LF -2 deg\n  cost 40.00 EUR parts \"clip\"\n";

#[test]
fn the_same_book_is_told_alike() {
    assert_eq!(told(SHOP, SHOP, &[]), "0 lines are no more, 0 lines are new.\nNothing is told otherwise.\n");
    // Blank lines, comments and another layout change nothing that is told but where it stands.
    let moved = SHOP.replace("\n2025-06-14", "\n\n\n2025-06-14");
    assert!(!told(SHOP, &moved, &[]).contains("->"));
}

/// Rates of wheels with motion ratio 1 are the springs' own (closed form); benched in August, the spring of April was 72.4.
#[test]
fn a_bench_line_of_august_changes_april() {
    let august = format!("{SHOP}\n2025-08-20\n  bench k1 spring-rate 72.4 N/mm\n");
    let told = told(SHOP, &august, &[]);
    let wheel = told.lines().position(|line| line.contains("wheel-rate LF")).expect(&told);
    let line = told.lines().nth(wheel).unwrap();
    assert!(line.contains("wren wheel-rate LF, pell-1: ") && line.ends_with("(and at 2 later)"), "{told}");
    assert!(line.contains("70.0") && line.contains("-> 72.4"), "{told}");
    assert!(told.lines().nth(wheel + 1).unwrap().contains("new: book.sline:28"), "{told}");
    assert!(!told.contains("wheel-rate RF") && !told.contains("plover") && !told.contains("Money"), "{told}");
}

#[test]
fn sums_messages_and_values_are_told() {
    let now = SHOP.replace("100.00 EUR", "120.00 EUR").replace("camber LF -2 deg", "camber LF -2");
    let told = told(SHOP, &now, &[]);
    assert!(told.starts_with("2 lines are no more, 2 lines are new.\n"), "{told}");
    assert!(told.contains("wren total of the car: at least 100.00 EUR -> at least 120.00 EUR"), "{told}");
    assert!(told.contains("ames total of the client: at least 100.00 EUR -> at least 120.00 EUR"), "{told}");
    assert!(told.contains("plover camber LF: -2 deg -> unknown"), "{told}");
    assert!(told.contains("new: unit-missing: "), "{told}");
    assert!(told.contains("no more: book.sline:24") && told.contains("new: book.sline:24"), "{told}");
    assert!(!told.contains("plover total"), "{told}");
}

/// What a client may not read is not told as altered.
#[test]
fn a_reader_is_told_his_own() {
    let now = SHOP.replace("100.00 EUR", "120.00 EUR").replace("camber LF -2 deg", "camber LF -3 deg");
    let his = told(SHOP, &now, &["--for", "orr"]);
    assert!(his.contains("plover camber LF: -2 deg -> -3 deg"), "{his}");
    assert!(!his.contains("wren") && !his.contains("120") && !his.contains("ames"), "{his}");
    let other = told(SHOP, &now, &["--for", "ames"]);
    assert!(
        other.contains("120.00 EUR") && !other.contains("plover") && !other.contains("camber"),
        "{other}"
    );
}

#[test]
fn what_is_neither_folder_nor_revision_is_said() {
    let said = said_on(&["altered", BOOK, "--since", "no-such-thing"], 96, NOW);
    assert_eq!((said.code.as_str(), said.out.as_str()), ("2", ""));
    assert!(said.err.contains("no-such-thing"), "{}", said.err);
    assert!(!Path::new("no-such-thing").exists());
}

/// A line that is a comment, and a file with another name, tell nothing otherwise: no page, no message.
#[test]
fn a_comment_and_another_name_of_a_file_change_nothing() {
    let home = tempfile::tempdir().unwrap();
    let [old, noted, named] = ["then", "noted", "named"].map(|name| home.path().join(name));
    for folder in [&old, &noted, &named] {
        fs::create_dir_all(folder).unwrap();
    }
    for file in fs::read_dir("ledgers/2026").unwrap().map(|file| file.unwrap().path()) {
        let (text, name) = (fs::read_to_string(&file).unwrap(), file.file_name().unwrap().to_owned());
        fs::write(old.join(&name), &text).unwrap();
        fs::write(noted.join(&name), format!("# a word of mine\n\n{text}")).unwrap();
        fs::write(named.join(format!("our-{}", name.to_str().unwrap())), &text).unwrap();
    }
    for folder in [&noted, &named] {
        let words = ["altered", folder.to_str().unwrap(), "--since", old.to_str().unwrap()];
        let said = said_on(&words, 96, NOW).out;
        let since = said.split("\n\n").next().unwrap_or_default();
        assert!(since.contains("Nothing is told otherwise."), "{folder:?}: {said}");
    }
}

/// What was asked stands beside what was read since; a correction of either is told.
#[test]
fn what_was_asked_is_told_beside_what_was_read() {
    let then =
        SHOP.replace("  set camber LF -2 deg\n", "  set camber LF -2 deg\n  read camber LF -2.4 deg\n");
    let now = then.replace("set camber LF -2 deg", "set camber LF -3 deg");
    let told = told(&then, &now, &[]);
    assert!(told.contains("plover camber LF, as asked: -2 deg -> -3 deg"), "{told}");
    assert!(!told.contains("plover camber LF:"), "{told}");
}
