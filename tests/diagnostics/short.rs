//! One line a message.

use super::{book, files, find};
use stringline::diagnostics::{Diagnostic, Severity, short};

#[test]
fn one_line_a_message() {
    let (files, diagnostics) = book();
    assert_eq!(
        short::render(&diagnostics, &files),
        "\
2026/may.sline:3:25: error[old-value-differs]: the front spring rate was 80 N/mm, not 75 (write `80 -> 85`, or `? -> 85` if nobody knows)
2026/may.sline:4:30: warning[unknown-gauge]: no gauge is called `gc-1` (did you mean `cg-1`?) [and 199 more like it in this book]
note[no-shop-line]: the book has no `shop` line
"
    );
}

#[test]
fn nothing_said_is_nothing_written() {
    assert_eq!(short::render(&[], &files(&[])), "");
}

#[test]
fn hostile_words_stay_on_their_line() {
    let files = files(&[("a\n\u{1b}[2J.sline", "x")]);
    let one =
        Diagnostic::new("c", Severity::Note, find(&files, 0, "x"), "one\ntwo\u{1b}[31m\u{202E}three\r\n");
    assert_eq!(
        short::render(&[one], &files),
        "a \u{241B}[2J.sline:1:1: note[c]: one two\u{241B}[31m\u{FFFD}three\n"
    );
}

#[test]
fn ten_thousand_messages_in_a_large_file_take_no_time() {
    // Counting line ends anew for each would read 2 MB ten thousand times: 20 GB.
    let files = files(&[("a.sline", &"2026-04-11 bittern\n".repeat(100_000))]);
    let one = |at: u32| {
        let start = at * 190;
        let span = stringline::source::Span::new(stringline::source::FileId(0), start, start + 10);
        Diagnostic::new("c", Severity::Note, span, "m")
    };
    let all: Vec<Diagnostic> = (0..10_000).map(one).collect();
    let started = std::time::Instant::now();
    let text = short::render(&all, &files);
    assert!(started.elapsed().as_secs() < 5);
    assert!(text.ends_with("a.sline:99991:1: note[c]: m\n"));
}
