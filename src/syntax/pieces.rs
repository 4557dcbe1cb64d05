//! The words that a line is taken apart into, as both readers of lines make them.
//!
//! Must not know which rule read the line.

use crate::syntax::figure::{self, Piece};
use crate::syntax::tree::{Shape, Word};

pub(super) fn push(words: &mut Vec<Word>, base: u32, start: usize, end: usize, shape: Shape) {
    words.push(Word { start: base + start as u32, len: (end - start) as u16, shape });
}

/// The words after `because`, without a trailing comment.
pub(super) fn reason(line: &str, start: usize, end: usize) -> (usize, usize) {
    let from = start + "because".len();
    let text = line.get(from..end).unwrap_or_default();
    let text_end = comment_start(text).unwrap_or(text.len());
    let kept = text.get(..text_end).unwrap_or_default();
    let lead = kept.len() - kept.trim_start().len();
    let trimmed = kept.trim();
    (from + lead.min(kept.len()), from + lead.min(kept.len()) + trimmed.len())
}

/// Where a comment starts in text that follows something: a `#` between blanks, or before `#` or the end.
fn comment_start(text: &str) -> Option<usize> {
    let bytes = text.as_bytes();
    memchr::memchr_iter(b'#', bytes).find(|&at| {
        at > 0
            && matches!(bytes.get(at - 1), Some(b' ' | b'\t'))
            && bytes.get(at + 1).is_none_or(|next| matches!(next, b' ' | b'\t' | b'#'))
    })
}

pub(super) fn add_figure(words: &mut Vec<Word>, line: &str, base: u32, start: usize, end: usize) {
    let text = line.get(start..end).unwrap_or_default();
    match figure::piece(text) {
        Piece::One(shape) => {
            if shape == Shape::Ratio && figure::is_ruler(text) {
                if let Some(whole) = whole_before(words, line, base, start) {
                    let at = whole.start - base;
                    words.pop();
                    push(words, base, at as usize, end, Shape::Number);
                } else {
                    push(words, base, start, end, Shape::Number);
                }
                return;
            }
            push(words, base, start, end, shape);
        }
        Piece::Glued(split, shape) => {
            push(words, base, start, start + split, shape);
            push(words, base, start + split, end, Shape::Word);
        }
    }
}

/// The whole number that a fraction at `start` belongs to: the word before, digits only, one blank between.
fn whole_before(words: &[Word], line: &str, base: u32, start: usize) -> Option<Word> {
    let last = *words.last()?;
    let from = last.start.checked_sub(base)? as usize;
    let text = line.get(from..from + last.len as usize)?;
    let unsigned = text.strip_prefix(['-', '+', '\u{2212}']).unwrap_or(text);
    (last.shape == Shape::Number
        && from + last.len as usize + 1 == start
        && !unsigned.is_empty()
        && unsigned.bytes().all(|byte| byte.is_ascii_digit()))
    .then_some(last)
}
