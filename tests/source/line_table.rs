//! Line tables against counts made by eye, and against the plain walk of the text.

use proptest::prelude::*;
use stringline::source::{FileId, Files, LineTable, Place, Places, SourceFile, Span};

fn one(text: &str) -> Files {
    Files::new(vec![SourceFile { path: "a.sline".to_owned(), text: text.to_owned() }])
}

fn span(start: u32, end: u32) -> Span {
    Span::new(FileId(0), start, end)
}

#[test]
fn lines_of_a_small_text() {
    let text = "ab\r\nc\n\nd";
    let table = LineTable::new(text);
    assert_eq!(table.count(), 4);
    assert_eq!((0..=9).map(|at| table.line(at)).collect::<Vec<_>>(), [1, 1, 1, 1, 2, 2, 3, 4, 4, 4]);
    let lines: Vec<&str> = (1..=5).map(|line| &text[table.range(text, line)]).collect();
    assert_eq!(lines, ["ab", "c", "", "d", ""]);
}

#[test]
fn an_empty_text_has_one_empty_line() {
    let table = LineTable::new("");
    assert_eq!((table.count(), table.line(0), table.line(7), table.range("", 1)), (1, 1, 1, 0..0));
}

#[test]
fn columns_count_characters() {
    let files = one("x\nfünf µ\ny");
    let places = Places::new(&files);
    // `µ` is bytes 8..10; the line starts at 2 and `ü` takes two bytes.
    let place = places.place(span(8, 10));
    assert_eq!(place, Some(Place { line: 2, column: 6, end_line: 2, end_column: 7 }));
    assert_eq!(places.text(span(8, 10)), "µ");
}

#[test]
fn a_span_inside_a_character_or_past_the_end_is_moved() {
    let files = one("ü");
    let places = Places::new(&files);
    assert_eq!(places.text(span(1, 1)), "ü");
    assert_eq!(places.text(span(9, 3)), "");
    assert_eq!(places.place(span(9, 3)), Some(Place { line: 1, column: 2, end_line: 1, end_column: 2 }));
    assert_eq!(places.place(Span::new(FileId(4), 0, 1)), None);
}

proptest! {
    #[test]
    fn the_table_agrees_with_the_walk(text in "[ab\\nü\\r]{0,40}", start in 0_u32..60) {
        let files = one(&text);
        let start = text.floor_char_boundary(start as usize) as u32;
        let place = Places::new(&files).place(span(start, start)).unwrap();
        prop_assert_eq!((place.line, place.column), files.line_column(span(start, start)));
    }
}
