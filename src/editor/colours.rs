//! Colours by what a word is: by its shape in the syntax tree, and by what the book knows it as.
//!
//! Must not know any colour.

use super::leaf::{Leaf, Named};
use crate::syntax::{Line, LineKind, Shape, Word};
use serde_json::{Value, json};

/// The sorts of word, as the protocol names them.
pub const SORTS: [&str; 8] =
    ["keyword", "property", "variable", "enumMember", "number", "string", "operator", "type"];

/// One sort, by its place in [`SORTS`].
#[derive(Debug, Clone, Copy)]
enum Sort {
    Keyword,
    Quantity,
    Name,
    Place,
    Number,
    Text,
    Mark,
    Unit,
}

/// The coloured words of a file, each as far from the one before as the protocol wants it.
#[must_use]
pub fn all(page: &Leaf<'_>) -> Value {
    let mut data: Vec<u32> = Vec::new();
    let (mut line, mut column) = (0, 0);
    for one in &page.chunk.lines {
        for (index, word) in page.chunk.words_of(one).iter().enumerate() {
            let Some(sort) = sort(page, one, index, *word) else { continue };
            let (from, to) =
                (page.text.position(word.start as usize), page.text.position(word.end() as usize));
            if from.line != to.line || from == to {
                continue;
            }
            let along = if from.line == line { from.character - column } else { from.character };
            data.extend([from.line - line, along, to.character - from.character, sort as u32, 0]);
            (line, column) = (from.line, from.character);
        }
    }
    json!({ "data": data })
}

fn sort(page: &Leaf<'_>, line: &Line, index: usize, word: Word) -> Option<Sort> {
    match word.shape {
        Shape::Text | Shape::Because => return Some(Sort::Text),
        Shape::Number | Shape::Range | Shape::Date | Shape::Clock | Shape::Lap | Shape::Tolerance => {
            return Some(Sort::Number);
        }
        Shape::Arrow | Shape::Dash | Shape::Unknown | Shape::Comma => return Some(Sort::Mark),
        Shape::Word | Shape::Code | Shape::Odd | Shape::Ratio => {}
    }
    if line.kind == LineKind::Note {
        return Some(Sort::Text);
    }
    let text = word.text(page.source);
    let first = match line.kind {
        LineKind::Entry => {
            index == 0
                || index == 1
                    && page.chunk.words_of(line).first().is_some_and(|one| one.shape == Shape::Clock)
        }
        LineKind::Declaration => index == 0,
        LineKind::Head | LineKind::Note | LineKind::Bad => false,
    };
    if first && (line.kind == LineKind::Declaration || crate::book::verb_of(text).is_some()) {
        return Some(Sort::Keyword);
    }
    let name = text.split('/').next().unwrap_or(text);
    match page.named(name) {
        Some(Named::Thing(crate::book::names::Thing::Position(_))) => Some(Sort::Place),
        Some(Named::Thing(_)) => Some(Sort::Name),
        Some(Named::Quantity(_)) => Some(Sort::Quantity),
        None if page.compiled.book.names.place(text).is_some() => Some(Sort::Place),
        None if crate::book::opens(text) => Some(Sort::Keyword),
        None if crate::units::table().knows(text) => Some(Sort::Unit),
        None => None,
    }
}
