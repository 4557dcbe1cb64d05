//! The messages for a person at a terminal, in the compiler manner: the line, the mark under it, the cure.
//!
//! Must not know any particular check. This is the only module that knows annotate-snippets, which scans
//! all the text it is given for every message: it gets the marked lines alone, never the file, and of a
//! very long line only the stretch around the mark.

use super::{Diagnostic, Mark, Severity, one_line, repeated};
use crate::source::{FileId, Places};
use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Renderer, Snippet};
use std::ops::Range;

/// Bytes of a line that are shown whole; of a longer one, the stretch around the mark.
const LONG_LINE: usize = 2048;
/// Bytes shown before the mark in a long line, and of the mark and what follows it.
const BEFORE: usize = 240;
const AFTER: usize = 480;
/// Lines a mark may cover; a longer one points at its first line.
const TALL_MARK: u32 = 6;
/// Marks at most this many lines apart are shown in one piece of the file.
const NEAR: u32 = 2;
/// Columns; below this nothing readable is left.
const NARROWEST: usize = 40;

/// Messages that may hold colours of ours and none that were typed.
#[derive(Debug)]
pub struct Colored(String);

impl Colored {
    /// The text, with its colours.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.0
    }
}

/// [`render`], for the door to the terminal.
#[must_use]
pub fn colored(
    diagnostics: &[Diagnostic],
    files: &crate::source::Files,
    color: bool,
    width: usize,
) -> Colored {
    Colored(render(diagnostics, files, color, width))
}

/// The messages with the lines they point at, a blank line after each; `width` is the terminal's, in columns.
#[must_use]
pub fn render(diagnostics: &[Diagnostic], files: &crate::source::Files, color: bool, width: usize) -> String {
    let places = Places::new(files);
    let renderer = if color { Renderer::styled() } else { Renderer::plain() };
    let renderer = renderer.term_width(width.max(NARROWEST));
    let mut out = String::new();
    for diagnostic in diagnostics {
        out.push_str(&message(diagnostic, &places, &renderer));
        out.push_str("\n\n");
    }
    out
}

fn message(diagnostic: &Diagnostic, places: &Places<'_>, renderer: &Renderer) -> String {
    let pieces = pieces(diagnostic, places);
    let level = match diagnostic.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    };
    let title = level.primary_title(one_line(&diagnostic.message)).id(diagnostic.check);
    let mut group = Group::with_title(title).elements(pieces.iter().map(Piece::snippet));
    if let Some(cure) = &diagnostic.cure {
        group = group.element(Level::HELP.message(one_line(cure)));
    }
    if let Some(words) = repeated(diagnostic.times) {
        group = group.element(Level::NOTE.message(words));
    }
    let mut text = renderer.render(&[group]);
    for piece in pieces.iter().filter(|piece| piece.hidden > 0) {
        text = piece.true_column(&text);
    }
    text
}

/// A few neighbouring lines of one file, with the marks in them.
#[derive(Debug)]
struct Piece<'a> {
    file: FileId,
    path: String,
    /// The lines, without the last line end.
    text: &'a str,
    /// Where `text` starts in the file.
    start: usize,
    /// First and last line, from 1.
    lines: (u32, u32),
    /// Characters left out before `text` on its first line: more than none only for a long line.
    hidden: usize,
    /// Shown around a long line, so it stays a piece of its own.
    alone: bool,
    spots: Vec<Spot<'a>>,
}

/// One mark: bytes in the file.
#[derive(Debug)]
struct Spot<'a> {
    bytes: Range<usize>,
    words: &'a str,
    main: bool,
}

/// The pieces to show: the main mark's first, then the others in order of use.
fn pieces<'a>(diagnostic: &'a Diagnostic, places: &Places<'a>) -> Vec<Piece<'a>> {
    let mut pieces: Vec<Piece<'a>> = Vec::new();
    let main = diagnostic.at.iter().map(|mark| (mark, true));
    for (mark, main) in main.chain(diagnostic.also.iter().map(|mark| (mark, false))) {
        let Some(piece) = Piece::new(mark, main, places) else { continue };
        match pieces.iter_mut().find(|held| held.near(&piece)) {
            Some(held) => held.take(piece, places),
            None => pieces.push(piece),
        }
    }
    pieces
}

impl<'a> Piece<'a> {
    /// `None` for a mark in no file of the book.
    fn new(mark: &'a Mark, main: bool, places: &Places<'a>) -> Option<Self> {
        let file = mark.span.file;
        let (text, table) = places.file(file)?;
        let mut bytes = places.bytes(mark.span)?;
        let first = table.line(bytes.start as u32);
        // A mark that takes in the line end of its last line does not reach the next line.
        let mut last = table.line(bytes.end.saturating_sub(1).max(bytes.start) as u32);
        let mut shown = table.range(text, first).start..table.range(text, last).end;
        let long =
            (first..=last.min(first + TALL_MARK)).any(|line| table.range(text, line).len() > LONG_LINE);
        if long || last - first >= TALL_MARK {
            last = first;
            shown = table.range(text, first);
        }
        if shown.len() > LONG_LINE {
            let start = text.floor_char_boundary(bytes.start.saturating_sub(BEFORE)).max(shown.start);
            let end = text.ceil_char_boundary(bytes.start.saturating_add(AFTER)).min(shown.end);
            let before = text.get(shown.start..start).unwrap_or_default();
            bytes = bytes.start..bytes.end.min(end);
            let spot = Spot { bytes, words: &mark.words, main };
            let hidden = before.chars().count();
            return Some(Self::of(places, file, start..end.max(start), (first, last), hidden, true, spot));
        }
        bytes = bytes.start.min(shown.end)..bytes.end.min(shown.end);
        let spot = Spot { bytes, words: &mark.words, main };
        Some(Self::of(places, file, shown, (first, last), 0, false, spot))
    }

    fn of(
        places: &Places<'a>,
        file: FileId,
        shown: Range<usize>,
        lines: (u32, u32),
        hidden: usize,
        alone: bool,
        spot: Spot<'a>,
    ) -> Self {
        let start = shown.start;
        let text = places.file(file).and_then(|(text, _)| text.get(shown)).unwrap_or_default();
        Self { file, path: one_line(places.path(file)), text, start, lines, hidden, alone, spots: vec![spot] }
    }

    /// Whether `other` is so close that both are read better in one piece.
    fn near(&self, other: &Self) -> bool {
        let apart = other.lines.0 <= self.lines.1 + NEAR && self.lines.0 <= other.lines.1 + NEAR;
        self.file == other.file && apart && !self.alone && !other.alone
    }

    /// Takes in a near piece, with the lines between.
    fn take(&mut self, other: Self, places: &Places<'a>) {
        let end = (self.start + self.text.len()).max(other.start + other.text.len());
        self.start = self.start.min(other.start);
        self.lines = (self.lines.0.min(other.lines.0), self.lines.1.max(other.lines.1));
        if let Some(text) = places.file(self.file).and_then(|(text, _)| text.get(self.start..end)) {
            self.text = text;
        }
        self.spots.extend(other.spots);
    }

    fn snippet(&self) -> Snippet<'_, Annotation<'_>> {
        let annotation = |spot: &Spot<'_>| {
            let kind = if spot.main { AnnotationKind::Primary } else { AnnotationKind::Context };
            let here = |at: usize| at.saturating_sub(self.start).min(self.text.len());
            let mark = kind.span(here(spot.bytes.start)..here(spot.bytes.end));
            // Without words there is no label: an empty one would draw a line to nothing.
            if spot.words.is_empty() { mark } else { mark.label(one_line(spot.words)) }
        };
        // The renderer leaves this one out, and what is left looks like something else. As many bytes stand for it.
        Snippet::source(self.text.replace('\u{200D}', "\u{FFFD}"))
            .path(self.path.as_str())
            .line_start(self.lines.0 as usize)
            .annotations(self.spots.iter().map(annotation))
    }

    /// Puts the true column where the renderer, which saw only a stretch of the line, counted from its start.
    fn true_column(&self, rendered: &str) -> String {
        let before =
            self.spots.first().and_then(|spot| self.text.get(..spot.bytes.start.saturating_sub(self.start)));
        let column = before.unwrap_or_default().chars().count() + 1;
        let seen = format!("{}:{}:{column}", self.path, self.lines.0);
        let split = |(at, _)| Some((rendered.get(..at)?, rendered.get(at + seen.len()..)?));
        // `2:24` must not be found in `2:241`.
        let whole = |(_, after): &(&str, &str)| !after.starts_with(|c: char| c.is_ascii_digit());
        match rendered.match_indices(&seen).filter_map(split).find(whole) {
            Some((before, after)) => {
                format!("{before}{}:{}:{}{after}", self.path, self.lines.0, column + self.hidden)
            }
            None => rendered.to_owned(),
        }
    }
}
