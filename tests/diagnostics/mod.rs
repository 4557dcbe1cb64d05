//! The renderers, on small books made up for the purpose.

mod json;
mod sarif;
mod short;
mod terminal;

use stringline::diagnostics::{Diagnostic, Severity};
use stringline::source::{FileId, Files, SourceFile, Span};

/// Files of (path, text) pairs, in the order given.
fn files(pairs: &[(&str, &str)]) -> Files {
    let file =
        |(path, text): &(&str, &str)| SourceFile { path: (*path).to_owned(), text: (*text).to_owned() };
    Files::new(pairs.iter().map(file).collect())
}

/// The span of the first `words` in file number `file`.
fn find(files: &Files, file: u32, words: &str) -> Span {
    let text = &files.get(FileId(file)).unwrap().text;
    let start = text.find(words).unwrap_or_else(|| panic!("no `{words}` in file {file}")) as u32;
    Span::new(FileId(file), start, start + words.len() as u32)
}

/// A small book with one mistake of each severity.
fn book() -> (Files, Vec<Diagnostic>) {
    let files = files(&[
        (
            "2026/april.sline",
            "2026-04-11 bittern\n  set spring-rate front 70 -> 80 N/mm\n  adjust perch RF +0.85 turn\n",
        ),
        (
            "2026/may.sline",
            "2026-05-02 bittern\n  | Überholt, neu gewogen.\n  set spring-rate front 75 -> 85 N/mm\n  read camber LF -2.9 deg by gc-1\n",
        ),
    ]);
    let diagnostics = vec![
        Diagnostic::new(
            "old-value-differs",
            Severity::Error,
            find(&files, 1, "75"),
            "the front spring rate was 80 N/mm, not 75",
        )
        .here("says 75 N/mm")
        .and(find(&files, 0, "80 N/mm"), "was set to 80 N/mm here")
        .cure("write `80 -> 85`, or `? -> 85` if nobody knows"),
        Diagnostic {
            times: 200,
            ..Diagnostic::new(
                "unknown-gauge",
                Severity::Warning,
                find(&files, 1, "gc-1"),
                "no gauge is called `gc-1`",
            )
            .cure("did you mean `cg-1`?")
        },
        Diagnostic {
            at: None,
            ..Diagnostic::new("no-shop-line", Severity::Note, Span::default(), "the book has no `shop` line")
        },
    ];
    (files, diagnostics)
}
