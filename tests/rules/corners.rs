//! A rule names each corner and each event that breaks it.

use crate::checks::compile_text;

const BOOK: &str = "circuit pell \"Pell Hill\"
event pell-1 2025-05-10 at pell \"spring\"
event pell-2 2025-06-14 at pell \"summer\"
gauge cg-1 \"camber gauge\"  reads camber  resolution 0.1 deg
car heron \"Heron\"  class S
rule cam class S  camber min -3 deg
";

/// The messages of a check: the line, and the words.
fn told(lines: &str, check: &str) -> Vec<(u32, String)> {
    let book = compile_text(&format!("{BOOK}\n{lines}"));
    let all = book.diagnostics.iter().filter(|one| one.check == check);
    all.map(|one| (book.files.line(one.at.as_ref().unwrap().span), one.message.clone())).collect()
}

#[test]
fn every_corner_of_a_reading_is_named() {
    let all =
        told("2025-05-10 heron at pell-1\n  read camber -3.2 -3.3 -1.5 -3.1 deg  by cg-1\n", "under-minimum");
    assert_eq!(all.len(), 1, "{all:?}");
    let words = &all[0].1;
    assert!(words.starts_with("camber RF is -3.3 deg at pell-1;"), "{words}");
    assert!(words.ends_with("Also LF -3.2 deg, short by 0.2 deg; RR -3.1 deg, short by 0.1 deg."), "{words}");
}

#[test]
fn a_second_corner_is_not_hidden_behind_the_first() {
    let lines = "2025-05-10 heron
  read camber -3.2 -2.8 -1.5 -1.5 deg  by cg-1
2025-05-11 heron
  read camber -3.2 -2.8 -1.5 -1.5 deg  by cg-1
2025-05-12 heron
  read camber -3.2 -3.4 -1.5 -1.5 deg  by cg-1
2025-05-13 heron
  read camber LF -2.9 deg  by cg-1
2025-05-14 heron
  read camber -3.2 -3.4 -1.5 -1.5 deg  by cg-1
";
    let all = told(lines, "under-minimum");
    // The first, the second corner, and the first again once it had passed; not twice the same.
    assert_eq!(all.iter().map(|(line, _)| *line).collect::<Vec<_>>(), [9, 13, 17], "{all:?}");
}

#[test]
fn every_event_is_named() {
    let lines = "2025-05-10 heron at pell-1
  read camber -3.2 -2.8 -1.5 -1.5 deg  by cg-1
2025-06-14 heron at pell-2
  read camber -3.2 -2.8 -1.5 -1.5 deg  by cg-1
  read camber -3.2 -2.8 -1.5 -1.5 deg  by cg-1
";
    let all = told(lines, "under-minimum");
    assert_eq!(all.len(), 2, "{all:?}");
    assert!(all[0].1.contains("at pell-1") && all[1].1.contains("at pell-2"), "{all:?}");
}

#[test]
fn so_is_a_margin_inside_the_gauge() {
    let all = told(
        "2025-05-10 heron at pell-1\n  read camber -3.0 -2.95 -1.5 -1.5 deg  by cg-1\n",
        "margin-inside-gauge",
    );
    assert_eq!(all.len(), 1, "{all:?}");
    assert!(all[0].1.ends_with("Also RF -2.95 deg, 0.05 deg inside."), "{all:?}");
}
