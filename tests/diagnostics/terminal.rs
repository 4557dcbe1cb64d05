//! The look of messages at a terminal, and that no span, however odd, brings it down.

use super::{book, files, find};
use proptest::prelude::*;
use stringline::diagnostics::{Diagnostic, Severity, terminal};
use stringline::source::{FileId, Files, Span};

fn plain(diagnostics: &[Diagnostic], files: &Files) -> String {
    terminal::render(diagnostics, files, false, 100)
}

#[test]
fn a_book_with_one_of_each() {
    let (files, diagnostics) = book();
    insta::assert_snapshot!(plain(&diagnostics, &files), @r#"
    error[old-value-differs]: the front spring rate was 80 N/mm, not 75
     --> 2026/may.sline:3:25
      |
    3 |   set spring-rate front 75 -> 85 N/mm
      |                         ^^ says 75 N/mm
      |
     ::: 2026/april.sline:2:31
      |
    2 |   set spring-rate front 70 -> 80 N/mm
      |                               ------- was set to 80 N/mm here
      |
      = help: write `80 -> 85`, or `? -> 85` if nobody knows

    warning[unknown-gauge]: no gauge is called `gc-1`
     --> 2026/may.sline:4:30
      |
    4 |   read camber LF -2.9 deg by gc-1
      |                              ^^^^
      |
      = help: did you mean `cg-1`?
      = note: and 199 more like it in this book

    note[no-shop-line]: the book has no `shop` line
    "#);
}

#[test]
fn neighbouring_lines_share_a_piece() {
    let text =
        "2026-04-18 bittern\n  09:35 run s1\n  09:40 set camber LF -3\n    because x\n  10:55 failed cp-07\n";
    let files = files(&[("a.sline", text), ("b.sline", "part cp-07 coupling\n")]);
    let one = Diagnostic::new(
        "times-cross",
        Severity::Warning,
        find(&files, 0, "09:40"),
        "the car was out at 09:40",
    )
    .and(find(&files, 0, "09:35"), "went out")
    .and(find(&files, 1, "cp-07"), "this one")
    .and(find(&files, 0, "10:55"), "and here");
    insta::assert_snapshot!(plain(&[one], &files), @r#"
    warning[times-cross]: the car was out at 09:40
     --> a.sline:3:3
      |
    2 |   09:35 run s1
      |   ----- went out
    3 |   09:40 set camber LF -3
      |   ^^^^^
    4 |     because x
    5 |   10:55 failed cp-07
      |   ----- and here
      |
     ::: b.sline:1:6
      |
    1 | part cp-07 coupling
      |      ----- this one
    "#);
}

#[test]
fn far_lines_of_one_file_stand_apart() {
    let text = format!("part cp-07\n{}part cp-07\n", "\n".repeat(997));
    let files = files(&[("a.sline", &text)]);
    let last = text.rfind("cp").unwrap() as u32;
    let one = Diagnostic::new(
        "named-twice",
        Severity::Error,
        Span::new(FileId(0), last, last + 5),
        "two parts are called `cp-07`",
    )
    .here("the second")
    .and(find(&files, 0, "cp-07"), "the first");
    insta::assert_snapshot!(plain(&[one], &files), @r#"
    error[named-twice]: two parts are called `cp-07`
       --> a.sline:999:6
        |
    999 | part cp-07
        |      ^^^^^ the second
        |
       ::: a.sline:1:6
        |
      1 | part cp-07
        |      ----- the first
    "#);
}

#[test]
fn marks_over_several_lines() {
    let text = "car a\r\n  b 1\r\n  c 2\r\n".to_owned() + &"  d 3\r\n".repeat(50);
    let files = files(&[("a.sline", &text)]);
    let short =
        Diagnostic::new("c", Severity::Note, Span::new(FileId(0), 0, 21), "three lines").here("these");
    let tall = Diagnostic::new("c", Severity::Note, Span::new(FileId(0), 9, 300), "points at its first line")
        .here("this");
    let end =
        Diagnostic::new("c", Severity::Note, Span::new(FileId(0), 5, 7), "only the line end").here("here");
    insta::assert_snapshot!(plain(&[short, tall, end], &files), @r#"
    note[c]: three lines
     --> a.sline:1:1
      |
    1 | / car a
    2 | |   b 1
    3 | |   c 2
      | |_____^ these

    note[c]: points at its first line
     --> a.sline:2:3
      |
    2 |   b 1
      |   ^^^ this

    note[c]: only the line end
     --> a.sline:1:6
      |
    1 | car a
      |      ^ here
    "#);
}

#[test]
fn a_very_long_line_is_shown_around_the_mark() {
    let text = format!("head\n  say \"{} OOPS {}\"\nfoot\n", "ü".repeat(100_000), "x".repeat(100_000));
    let files = files(&[("a.sline", &text)]);
    let one =
        Diagnostic::new("line-too-long", Severity::Error, find(&files, 0, "OOPS"), "this line is very long")
            .here("here")
            .and(find(&files, 0, "head"), "below this");
    let text = terminal::render(&[one], &files, false, 60);
    insta::assert_snapshot!(text, @r#"
    error[line-too-long]: this line is very long
     --> a.sline:2:100009
      |
    2 | ...üüüüüüüüüüüüüüüüüüü OOPS xxxxxxxxxxxxxxxxxxxxxxxxx...
      |                        ^^^^ here
      |
     ::: a.sline:1:1
      |
    1 | head
      | ---- below this
    "#);
}

#[test]
fn two_marks_far_apart_in_a_long_line_keep_their_own_columns() {
    let text = format!("{}AA{}BB{}", "x".repeat(24_098), "y".repeat(30_000), "z".repeat(9000));
    let files = files(&[("a.sline", &text)]);
    let one =
        Diagnostic::new("c", Severity::Note, find(&files, 0, "AA"), "m").and(find(&files, 0, "BB"), "w");
    for color in [false, true] {
        let text = terminal::render(std::slice::from_ref(&one), &files, color, 60);
        let places: Vec<&str> = text.split("a.sline:").skip(1).filter_map(|rest| rest.get(..7)).collect();
        assert_eq!(places, ["1:24099", "1:54101"], "{text}");
    }
}

#[test]
fn many_messages_in_a_large_file_take_no_time() {
    // The renderer scans what it is given: with the whole 2 MB each, this would take minutes.
    let files = files(&[("a.sline", &"2026-04-11 bittern\n".repeat(100_000))]);
    let one =
        |at: u32| Diagnostic::new("c", Severity::Note, Span::new(FileId(0), at * 950, at * 950 + 10), "m");
    let all: Vec<Diagnostic> = (0..2000).map(one).collect();
    let started = std::time::Instant::now();
    let text = plain(&all, &files);
    assert!(started.elapsed().as_secs() < 10);
    assert!(
        text.ends_with(" --> a.sline:99951:1\n      |\n99951 | 2026-04-11 bittern\n      | ^^^^^^^^^^\n\n")
    );
}

#[test]
fn odd_ends_of_files() {
    let files = files(&[("empty.sline", ""), ("a.sline", "last line")]);
    let at = |file, start, end| {
        Diagnostic::new("c", Severity::Note, Span::new(FileId(file), start, end), "m").here("w")
    };
    let all = [at(0, 0, 0), at(0, 5, 9), at(1, 9, 9), at(1, 5, 4_000_000_000), at(7, 0, 1)];
    insta::assert_snapshot!(plain(&all, &files), @r#"
    note[c]: m
     --> empty.sline:1:1
      |
    1 |
      | ^ w

    note[c]: m
     --> empty.sline:1:1
      |
    1 |
      | ^ w

    note[c]: m
     --> a.sline:1:10
      |
    1 | last line
      |          ^ w

    note[c]: m
     --> a.sline:1:6
      |
    1 | last line
      |      ^^^^ w

    note[c]: m
    "#);
}

#[test]
fn hostile_text_cannot_paint_the_terminal() {
    let files = files(&[("\u{1b}[2J.sline", "a\t\u{1b}[31m \u{202E}z\u{7}")]);
    let one = Diagnostic::new("c", Severity::Note, find(&files, 0, "z"), "m\u{1b}[1m\nn")
        .here("w\u{1b}c")
        .cure("q\u{9b}");
    let text = plain(&[one], &files);
    assert!(!text.contains(['\u{1b}', '\u{9b}', '\u{7}', '\u{202E}']), "{text:?}");
}

#[test]
fn colour_only_when_asked() {
    let (files, diagnostics) = book();
    let colored = terminal::render(&diagnostics, &files, true, 100);
    assert!(colored.contains('\u{1b}') && !plain(&diagnostics, &files).contains('\u{1b}'));
    assert_eq!(anstream::adapter::strip_str(&colored).to_string(), plain(&diagnostics, &files));
}

#[test]
fn a_narrow_terminal_is_respected() {
    let text = format!("  set camber LF -3.0 deg{}because of the kerbs\n", " ".repeat(90));
    let files = files(&[("a.sline", &text)]);
    let one = Diagnostic::new("c", Severity::Note, find(&files, 0, "LF"), "m").here("w");
    insta::assert_snapshot!(terminal::render(&[one], &files, false, 50), @r#"
    note[c]: m
     --> a.sline:1:14
      |
    1 |   set camber LF -3.0 deg                   ...
      |              ^^ w
    "#);
}

proptest! {
    #[test]
    fn no_span_brings_it_down(
        text in "[a ü\\n\\r\\t\u{1F3C1}]{0,60}",
        long in 0_usize..3,
        spans in prop::collection::vec((0_u32..3, 0_u32..8000, 0_u32..8000), 1..5),
        small in any::<bool>(),
        width in 0_usize..120,
    ) {
        let text = text.clone() + &"ü ".repeat(long * 1000) + &text;
        let files = files(&[("a.sline", &text), ("b.sline", "")]);
        let shrink = |at: u32| if small { at % 90 } else { at };
        let mut spans = spans.into_iter().map(|(file, a, b)| Span::new(FileId(file), shrink(a), shrink(b)));
        let mut one = Diagnostic::new("c", Severity::Error, spans.next().unwrap(), "message");
        for span in spans {
            one = one.and(span, "words");
        }
        let rendered = terminal::render(&[one], &files, small, width);
        prop_assert!(rendered.contains("message"));
        prop_assert!(rendered.len() < 40_000);
    }
}
