//! Text to tree: chunks of whole blocks on all cores, one pest parse a line.
//!
//! Must not know what any word means. pest types end here.

use super::fast;
use super::mistake::{self, Mistake, Trouble};
use super::tree::{Block, Chunk, Line, LineKind, Shape, Tree, Word};
use crate::source::{FileId, Files};
use crate::syntax::pieces::{add_figure, push, reason};
use crate::syntax::salvage;
use pest::Parser as _;
use rayon::prelude::*;

/// A line longer than this many bytes is reported, not parsed.
pub const MAX_LINE: usize = 64 * 1024 - 1;

/// Chunks are cut at the first block after this many bytes.
const CHUNK: usize = 64 * 1024;

#[allow(missing_docs)]
mod grammar {
    //! What pest generates from `grammar/line.pest`.
    #[derive(pest_derive::Parser)]
    #[grammar = "grammar/line.pest"]
    pub struct LineParser;
}
use grammar::{LineParser, Rule};

/// Parses every file of a book.
#[must_use]
pub fn parse(files: &Files) -> Tree {
    parse_with(files, true)
}

/// Parses every file by the grammar alone, without the fast reader; for the test that the two agree, and the benches.
#[doc(hidden)]
#[must_use]
pub fn parse_by_grammar(files: &Files) -> Tree {
    parse_with(files, false)
}

fn parse_with(files: &Files, fast: bool) -> Tree {
    let cuts: Vec<(FileId, &str, usize, usize)> = files
        .iter()
        .flat_map(|(id, file)| {
            cut(&file.text).into_iter().map(move |(from, to)| (id, file.text.as_str(), from, to))
        })
        .collect();
    let mut chunks: Vec<Chunk> =
        cuts.into_par_iter().map(|(id, text, from, to)| parse_chunk(id, text, (from, to), fast)).collect();
    let mut line = 1;
    let mut file = None;
    for chunk in &mut chunks {
        if file != Some(chunk.file) {
            file = Some(chunk.file);
            line = 1;
        }
        chunk.first_line = line;
        line += chunk.line_ends;
    }
    Tree { chunks }
}

/// Parses one text as one file; for the formatter and for tests.
#[must_use]
pub fn parse_lines_only(text: &str) -> Chunk {
    let mut chunk = parse_chunk(FileId(0), text, (0, text.len()), true);
    chunk.first_line = 1;
    chunk
}

/// What the grammar alone makes of one text; for the test that the fast reader agrees.
#[doc(hidden)]
#[must_use]
pub fn words_by_grammar(text: &str) -> Chunk {
    parse_chunk(FileId(0), text, (0, text.len()), false)
}

/// How many lines of a text the fast reader reads by itself.
#[doc(hidden)]
#[must_use]
pub fn lines_by_fast(text: &str) -> usize {
    let chunk = words_by_grammar(text);
    let reads = |line: &&Line| {
        let typed = text.get(line.start as usize..line.end as usize).unwrap_or_default();
        let lead = typed.bytes().take_while(|byte| matches!(byte, b' ' | b'\t')).count();
        fast::words(&mut Vec::new(), typed, lead, 0, line.kind).is_some()
    };
    chunk.lines.iter().filter(reads).count()
}

/// Byte ranges of about [`CHUNK`] bytes that start at column-0 lines.
fn cut(text: &str) -> Vec<(usize, usize)> {
    let bytes = text.as_bytes();
    let mut cuts = Vec::with_capacity(bytes.len() / CHUNK + 1);
    let mut from = 0;
    while from < bytes.len() {
        let mut to = from + CHUNK;
        loop {
            let Some(end) = bytes.get(to..).and_then(|rest| memchr::memchr(b'\n', rest)) else {
                to = bytes.len();
                break;
            };
            to += end + 1;
            if bytes.get(to).is_none_or(|first| !matches!(first, b' ' | b'\t' | b'#' | b'\r' | b'\n' | b'|'))
            {
                break;
            }
        }
        cuts.push((from, to.min(bytes.len())));
        from = to;
    }
    cuts
}

fn parse_chunk(file: FileId, text: &str, (from, to): (usize, usize), fast: bool) -> Chunk {
    let mut chunk = Chunk { file, ..Chunk::default() };
    let part = text.get(from..to).unwrap_or_default();
    // A line of a ledger is about 40 bytes and has about nine words.
    chunk.lines.reserve(part.len() / 40);
    chunk.words.reserve(part.len() / 6);
    let mut open: Vec<(u16, u32)> = Vec::new();
    let mut number = 0;
    let mut start = 0;
    let ends = memchr::memchr_iter(b'\n', part.as_bytes()).map(|end| (end, true));
    for (end, is_end) in ends.chain(std::iter::once((part.len(), false))) {
        let line = part.get(start..end).unwrap_or_default();
        let line = line.strip_suffix('\r').unwrap_or(line);
        if let Some(mut parsed) = parse_line(&mut chunk, line, (from + start) as u32, fast) {
            let index = chunk.lines.len() as u32;
            parsed.number = number;
            parsed.parent = belongs_to(&mut open, parsed.indent, index);
            if parsed.parent == index {
                chunk.blocks.push(Block { head: index, end: index + 1 });
            } else if let Some(block) = chunk.blocks.last_mut() {
                block.end = index + 1;
            }
            chunk.lines.push(parsed);
        }
        start = end + 1;
        number += u32::from(is_end);
    }
    chunk.line_ends = number;
    chunk.lines.shrink_to_fit();
    chunk.words.shrink_to_fit();
    chunk
}

/// The line that a line of this indent belongs to; itself where none is open.
fn belongs_to(open: &mut Vec<(u16, u32)>, indent: u16, index: u32) -> u32 {
    while open.last().is_some_and(|(above, _)| *above >= indent) {
        open.pop();
    }
    let parent = open.last().map_or(index, |(_, line)| *line);
    open.push((indent, index));
    parent
}

/// Reads one line; `None` for a blank or a comment.
fn parse_line(chunk: &mut Chunk, line: &str, base: u32, fast: bool) -> Option<Line> {
    let bytes = line.as_bytes();
    let mut indent: u16 = 0;
    let mut skip = 0;
    for byte in bytes {
        match byte {
            b' ' => indent = indent.saturating_add(1),
            b'\t' => indent = (indent / 8).saturating_add(1).saturating_mul(8),
            _ => break,
        }
        skip += 1;
    }
    let first = *bytes.get(skip)?;
    if first == b'#' && bytes.get(skip + 1).is_none_or(|next| matches!(next, b' ' | b'\t' | b'#' | b'\r')) {
        return None;
    }
    if first == b'\r' && skip + 1 == bytes.len() {
        return None;
    }
    let mut parsed = Line {
        start: base,
        end: base + line.len() as u32,
        number: 0,
        first_word: chunk.words.len() as u32,
        words: 0,
        salvaged: 0,
        indent,
        parent: 0,
        kind: LineKind::Bad,
    };
    if line.len() > MAX_LINE {
        let span = clip(chunk.file, base, line);
        chunk.troubles.push(Trouble { mistake: Mistake::LineTooLong, span });
        let start = line.get(..(span.end - span.start) as usize).unwrap_or_default();
        parsed.salvaged = salvage(&mut chunk.words, start, skip, base, indent);
        return Some(parsed);
    }
    let (rule, kind) = match (first, indent) {
        (b'|', _) => (Rule::note_line, LineKind::Note),
        (b'0'..=b'9', 1..) if fast::is_timed_note(line, skip) => (Rule::note_line, LineKind::Note),
        (b'0'..=b'9', 0) => (Rule::head_line, LineKind::Head),
        (_, 0) => (Rule::declaration_line, LineKind::Declaration),
        _ => (Rule::entry_line, LineKind::Entry),
    };
    if fast && fast::words(&mut chunk.words, line, skip, base, kind).is_some() {
        parsed.kind = kind;
    } else if let Ok(mut pairs) = LineParser::parse(rule, line) {
        if let Some(pair) = pairs.next() {
            add_words(&mut chunk.words, pair.into_inner(), line, base);
        }
        parsed.kind = kind;
    } else {
        let trouble = mistake::explain(chunk.file, line, base, kind);
        chunk.troubles.push(trouble);
        parsed.salvaged = salvage(&mut chunk.words, line, skip, base, indent);
        return Some(parsed);
    }
    parsed.words = how_many(chunk.words.len() - parsed.first_word as usize);
    Some(parsed)
}

/// Of words; a line has no more of them than it has bytes.
fn how_many(words: usize) -> u16 {
    words.min(usize::from(u16::MAX)) as u16
}

/// The words that a line under a head seems to have, which the grammar refused: how many. At the margin only one that begins with a time is
/// such a line, that lost its indent.
fn salvage(words: &mut Vec<Word>, line: &str, skip: usize, base: u32, indent: u16) -> u16 {
    let timed = || line.split_whitespace().next().is_some_and(|first| first.contains(':'));
    if indent == 0 && !timed() || line.as_bytes().get(skip) == Some(&b'|') {
        return 0;
    }
    let before = words.len();
    salvage::words(words, line, skip, base, |words, typed, start| {
        let whole = |rule| {
            let pairs = LineParser::parse(rule, typed).ok()?;
            pairs.peek().filter(|pair| pair.as_span().end() == typed.len()).map(|_| pairs)
        };
        match whole(Rule::item).or_else(|| whole(Rule::clock).filter(|_| words.len() == before)) {
            Some(pairs) if pairs.peek().is_some_and(|pair| pair.as_rule() == Rule::figure) => {
                // A fraction's whole number stands before it on the line.
                add_figure(words, line, base, start, start + typed.len());
            }
            Some(pairs) => add_words(words, pairs, typed, base + start as u32),
            None => push(words, base, start, start + typed.len(), Shape::Odd),
        }
    });
    how_many(words.len() - before)
}

fn clip(file: FileId, base: u32, line: &str) -> crate::source::Span {
    let mut end = line.len().min(60);
    while !line.is_char_boundary(end) {
        end -= 1;
    }
    crate::source::Span::new(file, base, base + end as u32)
}

fn add_words(words: &mut Vec<Word>, pairs: pest::iterators::Pairs<'_, Rule>, line: &str, base: u32) {
    for pair in pairs {
        let span = pair.as_span();
        let (start, end) = (span.start(), span.end());
        let shape = match pair.as_rule() {
            Rule::word => Shape::Word,
            Rule::number => Shape::Number,
            Rule::comma => Shape::Comma,
            Rule::text => Shape::Text,
            Rule::arrow => Shape::Arrow,
            Rule::dash => Shape::Dash,
            Rule::unknown => Shape::Unknown,
            Rule::tolerance => Shape::Tolerance,
            Rule::date => Shape::Date,
            Rule::clock => Shape::Clock,
            Rule::note => Shape::Text,
            Rule::odd => Shape::Odd,
            Rule::because => {
                let (start, end) = reason(line, start, end);
                push(words, base, start, end, Shape::Because);
                continue;
            }
            Rule::figure => {
                add_figure(words, line, base, start, end);
                continue;
            }
            // Rules that make no word of their own. Listed one by one, so that a new rule forces a decision here.
            Rule::EOI
            | Rule::comment
            | Rule::line_end
            | Rule::head_line
            | Rule::declaration_line
            | Rule::entry_line
            | Rule::note_line
            | Rule::rest
            | Rule::item
            | Rule::word_start
            | Rule::word_more
            | Rule::figure_more
            | Rule::sign
            | Rule::quote
            | Rule::edge
            | Rule::sp
            | Rule::blank => continue,
        };
        push(words, base, start, end, shape);
    }
}
