//! The outline of a file: its declarations and dated blocks, each with its lines; and what of it can be folded.
//!
//! Must not know what a line means.

use super::leaf::Leaf;
use crate::syntax::{Block, Line, LineKind};
use serde_json::{Value, json};

/// Kinds of symbols of the protocol that come nearest: `Class` of a declaration, `Event` of a dated block, `Field` of a line in one.
const DECLARATION: u8 = 5;
const BLOCK: u8 = 24;
const LINE: u8 = 8;

/// The outline.
#[must_use]
pub fn symbols(page: &Leaf<'_>) -> Value {
    page.chunk.blocks.iter().filter_map(|block| symbol(page, *block)).collect()
}

fn symbol(page: &Leaf<'_>, block: Block) -> Option<Value> {
    let lines = page.chunk.lines_of(block);
    let (head, rest) = lines.split_first()?;
    let kind = match head.kind {
        LineKind::Head => BLOCK,
        LineKind::Declaration => DECLARATION,
        LineKind::Entry | LineKind::Note | LineKind::Bad => LINE,
    };
    let last = lines.last()?;
    let children: Vec<Value> = rest.iter().map(|line| one(page, line, line, LINE, &[])).collect();
    Some(one(page, head, last, kind, &children))
}

fn one(page: &Leaf<'_>, line: &Line, last: &Line, kind: u8, children: &[Value]) -> Value {
    let said = page.said(line);
    let name = if said.is_empty() { "(empty)" } else { said };
    json!({
        "name": name.chars().take(200).collect::<String>(),
        "kind": kind,
        "range": page.text.range(line.start, last.end),
        "selectionRange": page.text.range(line.start, line.end),
        "children": children,
    })
}

/// What can be folded: blocks, lines with lines under them, comments of several lines.
#[must_use]
pub fn folds(page: &Leaf<'_>) -> Value {
    let mut folds: Vec<(u32, u32, &str)> = Vec::new();
    let number = |line: &Line| page.text.position(line.start as usize).line;
    for block in &page.chunk.blocks {
        let lines = page.chunk.lines_of(*block);
        for (index, line) in lines.iter().enumerate() {
            let under =
                lines.iter().skip(index + 1).take_while(|other| index == 0 || other.indent > line.indent);
            if let Some(last) = under.last() {
                folds.push((number(line), number(last), "region"));
            }
        }
    }
    let mut comment: Option<(u32, u32)> = None;
    let mut start = 0;
    for line in page.source.split_inclusive('\n') {
        // The client counts a lone carriage return as the end of a line.
        let number = page.text.position(start).line;
        start += line.len();
        if line.trim_start_matches([' ', '\t']).starts_with('#') {
            comment = Some((comment.map_or(number, |(first, _)| first), number));
        } else if let Some((first, last)) = comment.take() {
            folds.extend((last > first).then_some((first, last, "comment")));
        }
    }
    if let Some((first, last)) = comment {
        folds.extend((last > first).then_some((first, last, "comment")));
    }
    folds.sort_unstable();
    let folds = folds.iter();
    folds.map(|(from, to, kind)| json!({ "startLine": from, "endLine": to, "kind": kind })).collect()
}
