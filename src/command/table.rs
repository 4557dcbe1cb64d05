//! Columns of text for terminals, and the references at their end.
//!
//! Must not know cars or settings.

use crate::answer::LedgerLine;
use std::fmt::Write as _;
use textwrap::{Options, WordSeparator, WordSplitter};
use unicode_width::UnicodeWidthStr;

/// How many columns of a terminal a text takes (Unicode Standard Annex 11).
pub(super) fn width(text: &str) -> usize {
    UnicodeWidthStr::width(text)
}

/// The text and the blanks to its right.
pub(super) fn left(text: &str, columns: usize) -> String {
    format!("{text}{}", " ".repeat(columns.saturating_sub(width(text))))
}

/// The text and the blanks to its left.
pub(super) fn right(text: &str, columns: usize) -> String {
    format!("{}{text}", " ".repeat(columns.saturating_sub(width(text))))
}

/// Lines of a book in a few columns: `bittern.sline:61,129 cars.sline:12`.
pub(super) fn references(lines: &[&LedgerLine]) -> String {
    let mut sorted: Vec<&LedgerLine> = lines.to_vec();
    sorted.sort();
    sorted.dedup();
    let mut text = String::new();
    let mut path = None;
    for line in sorted {
        if path == Some(&line.path) {
            let _ = write!(text, ",{}", line.line);
        } else {
            if path.is_some() {
                text.push(' ');
            }
            let _ = write!(text, "{line}");
            path = Some(&line.path);
        }
    }
    text
}

/// Breaks words into lines of at most so many columns, each starting with `indent` blanks.
pub(super) fn wrap(words: &str, indent: usize, columns: usize) -> String {
    let blanks = " ".repeat(indent);
    let options = Options::new(columns)
        .initial_indent(&blanks)
        .subsequent_indent(&blanks)
        .word_separator(WordSeparator::AsciiSpace)
        .word_splitter(WordSplitter::NoHyphenation)
        .break_words(false);
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    textwrap::fill(&words, options) + "\n"
}

/// Rows with the day and lines they come from in columns of their own, and words under some of them.
#[derive(Debug, Default)]
pub(super) struct Rows {
    rows: Vec<Row>,
}

#[derive(Debug)]
struct Row {
    text: String,
    date: String,
    lines: String,
    under: Vec<String>,
}

impl Rows {
    /// Adds a row.
    pub(super) fn push(&mut self, text: &str, date: &str, lines: &[&LedgerLine]) {
        self.rows.push(Row {
            text: text.trim_end().to_owned(),
            date: date.to_owned(),
            lines: references(lines),
            under: Vec::new(),
        });
    }

    /// Adds words under the last row.
    pub(super) fn under(&mut self, words: String) {
        if let Some(row) = self.rows.last_mut() {
            row.under.push(words);
        }
    }

    /// Writes them, the words under rows at `indent`.
    pub(super) fn write(&self, out: &mut String, indent: usize, columns: usize) {
        let most = |width: &dyn Fn(&Row) -> usize| self.rows.iter().map(width).max().unwrap_or(0);
        let mut dates = most(&|row| width(&row.date));
        // One row with many lines must not push all the others about.
        let lines = most(&|row| width(&row.lines)).min(26);
        // On a narrow terminal the lines are worth more than the days.
        let texts = most(&|row| width(&row.text));
        let mut gap = 2;
        if texts + dates + lines + 3 > columns && texts + lines < columns {
            dates = 0;
            gap = (columns - texts - lines).min(2);
        }
        let room = columns.saturating_sub(lines + gap + if dates > 0 { dates + 1 } else { 0 }).max(20);
        let at = most(&|row| Some(width(&row.text)).filter(|width| *width <= room).unwrap_or(6));
        let gap = " ".repeat(gap);
        for row in &self.rows {
            let end = format!("{} {}", left(&row.date, dates), row.lines);
            let end = if dates == 0 { row.lines.clone() } else { end };
            if end.trim().is_empty() {
                out.push_str(&row.text);
            } else if width(&row.text) > at {
                let _ = write!(out, "{}\n{}{gap}{end}", row.text, " ".repeat(at));
            } else {
                let _ = write!(out, "{}{gap}{end}", left(&row.text, at));
            }
            out.push('\n');
            for words in &row.under {
                out.push_str(&wrap(words, indent, columns));
            }
        }
    }
}
