//! Positions: UTF-16 units, line ends of every kind, a byte-order mark.

use super::{Client, FOLDER, file};
use lsp_types::{Position, Range};
use proptest::prelude::*;
use serde_json::json;
use stringline::editor::text::Text;

/// U+1F600 is two UTF-16 units (Unicode Standard, section 3.9) and four bytes of UTF-8.
const SMILE: &str = "\u{1F600}";

#[test]
fn columns_count_utf16_units() {
    let text = format!("é{SMILE}x\nsecond");
    let lines = Text::new(&text);
    assert_eq!(lines.position("é".len() + SMILE.len()), Position::new(0, 3));
    assert_eq!(lines.offset(Position::new(0, 3)), "é".len() + SMILE.len());
    // In the middle of a pair is before it; past a line's end is its end; past the text its end.
    assert_eq!(lines.offset(Position::new(0, 2)), "é".len());
    assert_eq!(lines.offset(Position::new(0, 99)), text.find('\n').unwrap());
    assert_eq!(lines.offset(Position::new(9, 0)), text.len());
}

#[test]
fn a_line_ends_in_three_ways() {
    let lines = Text::new("a\r\nb\rc\nd");
    let at = |offset| lines.position(offset);
    assert_eq!([at(3), at(5), at(7)], [Position::new(1, 0), Position::new(2, 0), Position::new(3, 0)]);
    assert_eq!(lines.offset(Position::new(0, 99)), 1);
}

#[test]
fn a_byte_order_mark_is_a_unit_of_the_clients_text_and_no_byte_of_the_books() {
    let lines = Text::new("\u{FEFF}car");
    assert_eq!(lines.position(0), Position::new(0, 1));
    assert_eq!(lines.offset(Position::new(0, 1)), 0);
    assert_eq!(lines.offset(Position::new(0, 0)), 0);
    assert_eq!(lines.replaced(Range::new(Position::new(0, 1), Position::new(0, 4)), "kind"), "\u{FEFF}kind");
}

proptest! {
    #[test]
    fn every_byte_comes_back_from_its_position(text in "[a-z é\u{1F600}\r\n\u{FEFF}]{0,40}") {
        let lines = Text::new(&text);
        let mark = if text.starts_with('\u{FEFF}') { 3 } else { 0 };
        for (at, _) in text.char_indices().filter(|(at, _)| *at >= mark) {
            // Between a carriage return and its line feed no position lies.
            if !(text[..at].ends_with('\r') && text[at..].starts_with('\n')) {
                prop_assert_eq!(lines.offset(lines.position(at - mark)), at - mark);
            }
        }
    }
}

#[test]
fn messages_stand_where_the_client_sees_them() {
    let address = file("a.sline");
    for (end, mark) in [("\n", ""), ("\r\n", ""), ("\n", "\u{FEFF}")] {
        let text = format!(
            "{mark}carr heron \"Heron\"{end}car teal \"Teal {SMILE}\"{end}2025-05-03 teal{end}  say \"{SMILE} fine\" by nobody{end}"
        );
        let mut client = Client::new(&[FOLDER]);
        client.open(&address, &text);
        let wrong = client.wrong(&address);
        let place = |word: &str| super::place(&text, &format!("^{word}"));
        let starts: Vec<_> = wrong.iter().map(|one| one["range"]["start"].clone()).collect();
        assert_eq!(starts, [place("carr heron"), place("nobody")], "{wrong:#?}");
    }
}

/// What stands before the first word may be no blank of the language's: a lone carriage return.
#[test]
fn a_message_ends_after_it_begins() {
    let mut client = Client::new(&[FOLDER]);
    for (lead, line, column) in [("\r  ", 1, 2), ("\r\t ", 1, 2)] {
        client.open(&file("a.sline"), &format!("{lead}remove cp-07\n"));
        let wrong = client.wrong(&file("a.sline"));
        let [one] = wrong.as_slice() else { panic!("{wrong:#?}") };
        let range = json!({
            "start": { "line": line, "character": column },
            "end": { "line": line, "character": column + 6 },
        });
        assert_eq!(one["range"], range, "{one:#}");
    }
}

#[test]
fn an_edit_of_a_range_with_emoji_before_it_lands_where_it_was_made() {
    let address = file("a.sline");
    let text = format!("car teal \"Teal\"\r\n2025-05-03 teal\r\n  say \"{SMILE}\" by nobody\r\n");
    let mut client = Client::new(&[FOLDER]);
    client.open(&address, &text);
    assert_eq!(client.checks(&address), ["name-unknown"]);
    let (from, to) = (super::place(&text, "^ by nobody"), super::place(&text, " by nobody^"));
    client.change(&address, Some(json!({ "start": from, "end": to })), "");
    assert_eq!(client.checks(&address), Vec::<String>::new());
}
