//! Which slot the cursor stands in: the words before it on its line, and what that line belongs to.
//!
//! Must not know what fits a slot.

use crate::book::entry::Verb;
use crate::editor::leaf::Leaf;
use crate::syntax::{LineKind, Shape, Word, parse_lines_only};

/// A slot of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Slot<'a> {
    /// The first word at the margin.
    Margin,
    /// Of a dated head, after these words.
    Head(Vec<&'a str>),
    /// Of a declaration of that word, after these.
    Declaration(String, Vec<&'a str>),
    /// What was done.
    Verb,
    /// Of a line of that verb, after these words.
    Entry(Verb, Vec<&'a str>),
}

/// A slot, and what stands in it already.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Before<'a> {
    /// The slot.
    pub slot: Slot<'a>,
    /// First byte of what stands in it.
    pub from: usize,
}

/// The slot at a byte; `None` in a note, a comment, a reason or quoted words. What stands before it on its line is read as a line of its own.
pub(super) fn before<'a>(page: &Leaf<'a>, offset: usize) -> Option<Before<'a>> {
    let source = page.source;
    let start = source.get(..offset)?.rfind('\n').map_or(0, |at| at + 1);
    let typed = source.get(start..offset)?;
    let from = start + typed.rfind([' ', '\t']).map_or(0, |at| at + 1);
    let said = source.get(start..from)?;
    let read = parse_lines_only(said);
    let end = read.words.last().map_or(0, |word| word.end() as usize);
    let is_reason = |word: &Word| word.shape == Shape::Because;
    let comment = said.get(end..)?.contains('#');
    // A line that cannot be read has quotes that are still open.
    let open = read.lines.first().is_some_and(|line| matches!(line.kind, LineKind::Note | LineKind::Bad));
    if open || comment || read.words.last().is_some_and(is_reason) {
        return None;
    }
    let timed = read.words.first().is_some_and(|word| word.shape == Shape::Clock);
    let words: Vec<&str> = read.words.iter().skip(usize::from(timed)).map(|word| word.text(said)).collect();
    let indented = typed.starts_with([' ', '\t']);
    let slot = if indented {
        let block = page.chunk.blocks.iter().filter_map(|block| page.chunk.lines_of(*block).first());
        let head = block.take_while(|line| line.start as usize <= start).last()?;
        if head.kind == LineKind::Declaration {
            let word = page.chunk.words_of(head).first()?.text(source).to_ascii_lowercase();
            Slot::Declaration(word, words)
        } else {
            match words.split_first() {
                None => Slot::Verb,
                Some((first, rest)) => Slot::Entry(crate::book::verb_of(first)?, rest.to_vec()),
            }
        }
    } else {
        match (words.split_first(), read.lines.first().map(|line| line.kind)) {
            (None, _) => Slot::Margin,
            (Some(_), Some(LineKind::Head)) => Slot::Head(words),
            (Some((first, rest)), _) => Slot::Declaration(first.to_ascii_lowercase(), rest.to_vec()),
        }
    };
    Some(Before { slot, from })
}
