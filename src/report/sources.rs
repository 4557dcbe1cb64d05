//! The ledger lines a number came from, as one short text: `bittern.sline:261, 272 · bench.sline:12`.
//!
//! Must not know what the numbers are.

use crate::source::{FileId, Files, Span};
use std::fmt::Write as _;

/// So many lines are named one by one; of more, the first and the last and how many.
const MOST: usize = 4;

/// Names the lines of some spans, in order of file and line, each once.
pub(super) fn lines(files: &Files, spans: impl IntoIterator<Item = Span>) -> String {
    lines_of(files, None, spans)
}

/// The same with one file that goes without saying: `:261, 272 · bench.sline:12`.
pub(super) fn lines_of(files: &Files, home: Option<FileId>, spans: impl IntoIterator<Item = Span>) -> String {
    let mut all: Vec<(FileId, u32)> = spans
        .into_iter()
        .filter(|span| files.get(span.file).is_some())
        .map(|span| (span.file, files.line(span)))
        .collect();
    all.sort_unstable();
    all.dedup();
    let mut text = String::new();
    let mut rest = all.as_slice();
    while let Some((file, _)) = rest.first().copied() {
        let end = rest.iter().position(|(other, _)| *other != file).unwrap_or(rest.len());
        let (here, after) = rest.split_at(end);
        rest = after;
        if !text.is_empty() {
            text.push_str(" · ");
        }
        if home != Some(file) {
            text.push_str(files.path(file));
        }
        text.push(':');
        if here.len() > MOST {
            let (first, last) = (here.first().map_or(0, |at| at.1), here.last().map_or(0, |at| at.1));
            let _ = write!(text, "{first}…{last} ({} lines)", here.len());
        } else {
            let numbers: Vec<String> = here.iter().map(|(_, line)| line.to_string()).collect();
            text.push_str(&numbers.join(", "));
        }
    }
    text
}
