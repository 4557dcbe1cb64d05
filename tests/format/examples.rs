//! One rule of the layout each, and the demo book.

use super::{compiled, demo, laid};
use stringline::answer;
use stringline::history::moment;
use stringline::syntax::layout;

#[test]
fn indents_are_two_a_level_whatever_they_were() {
    let typed = "2026-04-11 bittern\n\tset wing-angle 8 deg\n\t\twaive outside-usual because so\n      | a note\n set fuel 20 L\n";
    let wanted = "2026-04-11 bittern\n  set wing-angle 8 deg\n    waive outside-usual because so\n  | a note\n  set fuel 20 L\n";
    assert_eq!(laid(typed), wanted);
}

#[test]
fn blanks_are_single_but_two_may_open_a_clause() {
    let typed = "2026-04-11   bittern  at quern-1\n  set    camber   LF  -3.2\tRF -3.2   deg    by cg-1   because   it  is so   \n  run s1   14  laps  best 1:08.42   by dobrey\n";
    let wanted = "2026-04-11 bittern  at quern-1\n  set camber LF -3.2 RF -3.2 deg  by cg-1  because it  is so\n  run s1  14  laps  best 1:08.42  by dobrey\n";
    assert_eq!(laid(typed), wanted);
}

#[test]
fn properties_keep_their_two_blanks_and_a_title_stands_close() {
    let typed = "car  heron    \"Heron, a sprint two-seater\"   client orr  class S-1\tunits metric\n";
    let wanted = "car heron \"Heron, a sprint two-seater\"  client orr  class S-1 units metric\n";
    assert_eq!(laid(typed), wanted);
}

#[test]
fn line_ends_blank_lines_and_the_end() {
    assert_eq!(laid("\n\nshop \"A\"\r\n\r\n \t\r\n# a comment  \r\n\n\n"), "shop \"A\"\n\n# a comment\n");
    assert_eq!(laid("shop \"A\""), "shop \"A\"\n");
    assert_eq!(laid(""), "");
    assert_eq!(laid("\n \n"), "");
}

#[test]
fn smart_quotes_become_straight_outside_notes_and_reasons() {
    let typed = "2026-04-11 bittern\n  hit RF \u{201C}tyre wall\u{201D} because \u{201C}he\u{201D} said so\n  | \u{201C}well\u{201D}\n";
    let wanted = "2026-04-11 bittern\n  hit RF \"tyre wall\" because \u{201C}he\u{201D} said so\n  | \u{201C}well\u{201D}\n";
    assert_eq!(laid(typed), wanted);
}

#[test]
fn notes_and_comments_keep_their_words() {
    let typed = "2026-04-11 bittern\n   |   two  blanks, and two at the end  \n   #  so   here\n  set fuel 20 L     #  and   here  \n";
    let wanted = "2026-04-11 bittern\n  |   two  blanks, and two at the end  \n  #  so   here\n  set fuel 20 L  #  and   here\n";
    assert_eq!(laid(typed), wanted);
}

#[test]
fn a_fraction_is_not_made_of_two_numbers() {
    // `5  3/16` is two words, `5 3/16` is one: the blanks stay.
    let typed = "2026-04-11 plover\n  set ride-height LF 5  3/16 in\n";
    assert_eq!(laid(typed), typed);
}

#[test]
fn a_line_that_cannot_be_read_stays_and_so_do_the_indents_about_it() {
    let typed = "2026-04-11 bittern\n\tset fuel   20 L\n\tset camber LF -3,2   deg\n\t\tvoid   because x\n";
    let wanted = "2026-04-11 bittern\n\tset fuel 20 L\n\tset camber LF -3,2   deg\n\t\tvoid  because x\n";
    assert_eq!(laid(typed), wanted);
}

#[test]
fn a_line_with_an_error_stays() {
    let typed = "2026-04-11 bittern\n  set fuel   20 L\n  set   fule   20 L\n";
    let wanted = "2026-04-11 bittern\n  set fuel 20 L\n  set   fule   20 L\n";
    assert_eq!(layout(typed, &|line| line == 3, &stringline::book::opens), wanted);
}

#[test]
fn the_demo_book_says_the_same_when_laid_out() {
    let before = demo();
    // Laid out badly first, so that there is something to do.
    let untidy: Vec<(String, String)> = before
        .iter()
        .map(|(path, text)| {
            let text = text.replace("\n  ", "\n\t ").replace("  by ", "   by ").replace(" deg", "\t deg");
            (path.clone(), text.replace('\n', "  \r\n"))
        })
        .collect();
    let after: Vec<(String, String)> = untidy.iter().map(|(path, text)| (path.clone(), laid(text))).collect();
    assert!(untidy.iter().zip(&after).all(|(a, b)| a.1 != b.1));
    let (a, b) = (compiled(&before), compiled(&after));
    let said = |compiled: &stringline::Compiled| {
        let text = stringline::diagnostics::short::render(&compiled.diagnostics, &compiled.files);
        // Columns move; files, lines and words may not.
        text.lines().map(|line| line.replace(|each: char| each.is_ascii_digit(), "")).collect::<Vec<_>>()
    };
    assert_eq!(said(&a), said(&b));
    for (index, _) in a.book.cars.iter().enumerate() {
        let id = stringline::book::model::CarId::from(index);
        let state = |compiled: &stringline::Compiled| {
            let view = answer::state::build(compiled, id, &moment::end(&compiled.history), None);
            let mut json: serde_json::Value = serde_json::to_value(view).unwrap();
            without_lines(&mut json);
            json
        };
        assert_eq!(state(&a), state(&b));
    }
}

/// Blank lines may go, so line numbers may move.
fn without_lines(json: &mut serde_json::Value) {
    match json {
        serde_json::Value::Object(map) => {
            if map.len() == 2 && map.contains_key("path") {
                map.remove("line");
            }
            map.values_mut().for_each(without_lines);
        }
        serde_json::Value::Array(list) => list.iter_mut().for_each(without_lines),
        _ => {}
    }
}
