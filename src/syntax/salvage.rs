//! The words of a line that the grammar refused, as far as they can be told apart: what such a line was about is then not known, and
//! what was known before it is not told as if it had not been typed.
//!
//! Must not know what any word means, nor what is wrong with the line.

use super::pieces::{push, reason};
use super::tree::{Shape, Word};

/// Any of these opens or ends quoted words.
pub const QUOTES: [char; 4] = ['"', '\u{201C}', '\u{201D}', '\u{201E}'];

fn is_blank(each: char) -> bool {
    matches!(each, ' ' | '\t' | '\u{A0}')
}

/// Takes a line apart at its blanks, quotes and commas from byte `skip` on. `word` takes what stands between two of them, and where.
pub(super) fn words(
    out: &mut Vec<Word>,
    line: &str,
    skip: usize,
    base: u32,
    mut word: impl FnMut(&mut Vec<Word>, &str, usize),
) {
    let mut start = skip;
    while let Some(rest) = line.get(start..)
        && let Some(first) = rest.chars().next()
    {
        if is_blank(first) {
            start += first.len_utf8();
            continue;
        }
        let end = if QUOTES.contains(&first) {
            // One that nobody closed goes on to the end of the line.
            let inside = rest.get(first.len_utf8()..).unwrap_or_default();
            let closed = inside.find(QUOTES).and_then(|at| Some((at, inside.get(at..)?.chars().next()?)));
            let end =
                closed.map_or(line.len(), |(at, quote)| start + first.len_utf8() + at + quote.len_utf8());
            push(out, base, start, end, Shape::Text);
            end
        } else if first == ',' {
            push(out, base, start, start + 1, Shape::Comma);
            start + 1
        } else {
            let typed = bare(rest);
            if first == '#' && rest.chars().nth(1).is_none_or(|next| is_blank(next) || next == '#') {
                return;
            }
            if start > skip && typed.eq_ignore_ascii_case("because") {
                let (from, to) = reason(line, start, line.len());
                push(out, base, from, to, Shape::Because);
                return;
            }
            word(out, typed, start);
            start + typed.len()
        };
        start = end;
    }
}

/// Up to the next blank or quote, or a comma with a blank behind it.
fn bare(rest: &str) -> &str {
    let mut each = rest.char_indices().peekable();
    while let Some((at, one)) = each.next() {
        let ends = each.peek().is_none_or(|(_, next)| is_blank(*next));
        if is_blank(one) || QUOTES.contains(&one) || one == ',' && ends {
            return rest.get(..at).unwrap_or_default();
        }
    }
    rest
}
