//! A short cut for the plainest lines: words, plain numbers, commas, arrows and dashes in ASCII, nothing else.
//!
//! The grammar stays the definition. This reader gives up (`None`) on anything it is not sure of (quotes, clocks,
//! fractions, comments, `because`), and a property test and the fuzz target hold it to the same words as pest.
//! Why it exists: `tests/benches` shows pest alone at several times the allowed 40 line walks.

use super::tree::{Shape, Word};

const LETTER: u8 = 1;
const WORD: u8 = 2;
const DIGIT: u8 = 4;

/// What each ASCII byte may be part of; the same sets as `word_start`, `word_more` and digits in `line.pest`.
const CLASS: [u8; 256] = {
    let mut class = [0; 256];
    let mut byte = 0;
    while byte < 128 {
        let each = byte as u8;
        if each.is_ascii_alphabetic() || each == b'%' {
            class[byte] |= LETTER | WORD;
        }
        if (each >= b'-' && each <= b':')
            || matches!(each, b'_' | b'\'' | b'^' | b'(' | b')' | b'*' | b'&' | b'@' | b'~')
        {
            class[byte] |= WORD;
        }
        if each.is_ascii_digit() {
            class[byte] |= DIGIT;
        }
        byte += 1;
    }
    class
};

const fn is_edge(next: Option<&u8>) -> bool {
    matches!(next, None | Some(b' ' | b'\t' | b','))
}

/// Reads the words of an entry line from byte `at`; `None` (with nothing pushed) when the line is not plain.
pub fn words(out: &mut Vec<Word>, line: &[u8], mut at: usize, base: u32) -> Option<()> {
    let before = out.len();
    let read = (|| {
        loop {
            let start = at;
            let first = *line.get(at)?;
            let shape = if CLASS[first as usize] & LETTER != 0 {
                while line.get(at).is_some_and(|byte| CLASS[*byte as usize] & WORD != 0) {
                    at += 1;
                }
                if at - start == 7 && line[start..at].eq_ignore_ascii_case(b"because") {
                    return None;
                }
                Shape::Word
            } else if first == b'-' && line.get(at + 1) == Some(&b'>') {
                at += 2;
                Shape::Arrow
            } else if first == b'-' && is_edge(line.get(at + 1)) {
                at += 1;
                Shape::Dash
            } else {
                at += usize::from(matches!(first, b'-' | b'+'));
                digits(line, &mut at)?;
                if line.get(at) == Some(&b'.') {
                    at += 1;
                    digits(line, &mut at)?;
                }
                Shape::Number
            };
            if !is_edge(line.get(at)) {
                return None;
            }
            out.push(Word { start: base + start as u32, len: (at - start) as u16, shape });
            if line.get(at) == Some(&b',') {
                if !matches!(line.get(at + 1), None | Some(b' ' | b'\t')) {
                    return None;
                }
                out.push(Word { start: base + at as u32, len: 1, shape: Shape::Comma });
                at += 1;
            }
            while matches!(line.get(at), Some(b' ' | b'\t')) {
                at += 1;
            }
            if at == line.len() {
                return Some(());
            }
        }
    })();
    if read.is_none() {
        out.truncate(before);
    }
    read
}

/// One or more digits.
fn digits(line: &[u8], at: &mut usize) -> Option<()> {
    let start = *at;
    while line.get(*at).is_some_and(|byte| CLASS[*byte as usize] & DIGIT != 0) {
        *at += 1;
    }
    (*at > start).then_some(())
}
