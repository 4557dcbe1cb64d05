//! Empty cars, names as long as they come, books with errors.

use super::super::html::{assert_nested, read};
use super::{in_order, of_book, pages, text};

#[test]
fn a_car_without_a_line_has_a_sheet_with_holes_to_fill_in() {
    let said = of_book(
        "circuit c \"C\"\nevent e 2026-05-02..02 at c \"E\" entered a\ncar a \"A\"\ncar b \"B\"\n",
        "a-e-sheet.html",
    );
    in_order(&said, &["the book has no line about it yet", "LF", "camber –", "What it runs"]);
    let names: Vec<String> = pages(&text("car a \"A\"\n")).into_iter().map(|page| page.name).collect();
    assert_eq!(names, ["index.html"]);
}

#[test]
fn names_of_any_length_stay_whole() {
    let long = "a".repeat(90);
    let book = format!(
        "circuit c{long} \"{long}\" length 2 km\nevent e{long} 2026-05-02..02 at c{long} \"{long}\"\nkind k{long} \"K\" fits RF life 300 min safety\n\
         part p{long} k{long} opening new\ncar a{long} \"{long}\"\n2026-05-01 a{long}\n  fit p{long} RF\n  left camber LF -3.0 RF -3.0 deg\n\
         2026-05-02 a{long} at e{long}\n  10:00..10:30 run s{long} 4 laps best 1:00.0\n    say entry {long} \"{long}\"\n  hit RF \"{long}\" during s{long}\n"
    );
    for page in pages(&text(&book)) {
        assert_nested(&page.name, &read(&page.html));
        assert!(page.name.len() < 250, "{}", page.name);
    }
    let count = pages(&text(&book)).iter().filter(|page| page.html.contains(&format!("p{long}"))).count();
    // The season, the sheet, the crash and the load list name the part whole.
    assert!(count >= 4, "{count}");
}

#[test]
fn an_error_leaves_a_hole_with_its_line() {
    let said = of_book(
        "circuit c \"C\"\nevent e 2026-05-02..02 at c \"E\"\ncar a \"A\"\n2026-05-01 a\n  set camber LF -3.0 RF -3.0 deg\n  set camber LF -3.2 RF -3.2\n",
        "a-e-sheet.html",
    );
    in_order(
        &said,
        &[
            "The book has errors.",
            "LF",
            "camber 1 book.sline:6",
            "–",
            "a line with an error makes it unknown",
        ],
    );
}
