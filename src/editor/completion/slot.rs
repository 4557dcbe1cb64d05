//! Which slot the cursor stands in: the words before it on its line, and what that line belongs to.
//!
//! Must not know what fits a slot.

use crate::book::entry::Verb;
use crate::editor::leaf::Leaf;
use crate::syntax::LineKind;

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

/// The slot at a byte; `None` in a note, a comment, a reason or quoted words.
pub(super) fn before<'a>(page: &Leaf<'a>, offset: usize) -> Option<Before<'a>> {
    let source = page.source;
    let start = source.get(..offset)?.rfind('\n').map_or(0, |at| at + 1);
    let typed = source.get(start..offset)?;
    let from = start + typed.rfind([' ', '\t']).map_or(0, |at| at + 1);
    let said = source.get(start..from)?;
    let body = said.trim_start();
    let quotes = said.matches(['"', '\u{201C}', '\u{201D}']).count();
    if body.starts_with(['|', '#']) || quotes % 2 == 1 || said.contains(" because ") || said.contains(" # ") {
        return None;
    }
    let mut words: Vec<&str> = body.split_whitespace().collect();
    let indented = typed.starts_with([' ', '\t']);
    let slot = if indented {
        let block = page.chunk.blocks.iter().filter_map(|block| page.chunk.lines_of(*block).first());
        let head = block.take_while(|line| line.start as usize <= start).last()?;
        if head.kind == LineKind::Declaration {
            let word = page.chunk.words_of(head).first()?.text(source).to_ascii_lowercase();
            Slot::Declaration(word, words)
        } else {
            if words
                .first()
                .is_some_and(|word| word.contains(':') && word.starts_with(|c: char| c.is_ascii_digit()))
            {
                words.remove(0);
            }
            match words.split_first() {
                None => Slot::Verb,
                Some((first, rest)) => {
                    let verb = Verb::ALL.iter().find(|verb| verb.word().eq_ignore_ascii_case(first))?;
                    Slot::Entry(*verb, rest.to_vec())
                }
            }
        }
    } else {
        match words.split_first() {
            None => Slot::Margin,
            Some((first, _)) if crate::syntax::looks_like_a_date(first) => Slot::Head(words),
            Some((first, rest)) => Slot::Declaration(first.to_ascii_lowercase(), rest.to_vec()),
        }
    };
    Some(Before { slot, from })
}
