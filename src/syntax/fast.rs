//! A short cut for the plainest entry lines: a clock, words, numbers, commas, arrows, dashes, quoted text,
//! and the reason that ends a line.
//!
//! The grammar stays the definition. This reader gives up (`None`) on anything else (heads, declarations, notes,
//! comments, letters and blanks beyond ASCII), and `tests/agreement` and the fuzz target
//! hold it to the same words as pest. Why it exists: `tests/benches` shows pest alone at several times the allowed 40
//! line walks.

use super::parse::{add_figure, push, reason};
use super::tree::{Shape, Word};

const LETTER: u8 = 1;
const WORD: u8 = 2;
const DIGIT: u8 = 4;
const FIGURE: u8 = 8;

/// What each ASCII byte may be part of; the same sets as `word_start`, `word_more` and digits in `line.pest`.
const CLASS: [u8; 256] = {
    let mut class = [0; 256];
    let mut byte = 0;
    while byte < 128 {
        let each = byte as u8;
        if each.is_ascii_alphabetic() || each == b'%' {
            class[byte] |= LETTER | WORD;
        }
        if each >= b'-' && each <= b':'
            || matches!(each, b'_' | b'\'' | b'^' | b'(' | b')' | b'*' | b'&' | b'@' | b'~')
        {
            class[byte] |= WORD;
        }
        if each.is_ascii_digit() {
            class[byte] |= DIGIT;
        }
        if each >= b'-' && each <= b':'
            || each.is_ascii_alphabetic()
            || matches!(each, b'\'' | b'%' | b'_' | b'+')
        {
            class[byte] |= FIGURE;
        }
        byte += 1;
    }
    class
};

/// Where the bytes of a class that start at `at` end.
fn past(line: &[u8], at: usize, class: u8) -> usize {
    let rest = line.get(at..).unwrap_or_default();
    at + rest.iter().position(|byte| CLASS[*byte as usize] & class == 0).unwrap_or(rest.len())
}

fn past_blanks(line: &[u8], mut at: usize) -> usize {
    while matches!(line.get(at), Some(b' ' | b'\t')) {
        at += 1;
    }
    at
}

/// Reads the words of an entry line from its first byte that is no blank; `None` (with nothing pushed) when the line is
/// not plain.
pub fn words(out: &mut Vec<Word>, line: &str, at: usize, base: u32) -> Option<()> {
    let before = out.len();
    let read = entry(out, line, at, base);
    if read.is_none() {
        out.truncate(before);
    }
    read
}

fn entry(out: &mut Vec<Word>, typed: &str, mut at: usize, base: u32) -> Option<()> {
    let line = typed.as_bytes();
    if let Some(end) = clock(line, at) {
        push(out, base, at, end, Shape::Clock);
        at = past_blanks(line, end);
    }
    while at < line.len() {
        let start = at;
        let byte = *line.get(at)?;
        let shape = if CLASS[byte as usize] & LETTER != 0 {
            at = past(line, at + 1, WORD);
            if at - start == 7 && line.get(start..at)?.eq_ignore_ascii_case(b"because") {
                // The verb of a line is never `because`; after it, the rest of the line is the reason.
                let opens = out.last().is_some_and(|word| word.start >= base && word.shape != Shape::Clock);
                if !opens || !matches!(line.get(at), None | Some(b' ' | b'\t')) {
                    return None;
                }
                let (from, to) = reason(typed, start, line.len());
                push(out, base, from, to, Shape::Because);
                return Some(());
            }
            Shape::Word
        } else if byte == b'"' {
            at = closed(line, at + 1)? + 1;
            Shape::Text
        } else if byte == b'-' && line.get(at + 1) == Some(&b'>') {
            at += 2;
            Shape::Arrow
        } else if byte == b'-' && CLASS[usize::from(*line.get(at + 1)?)] & DIGIT == 0 {
            at += 1;
            Shape::Dash
        } else {
            let (end, plain) = number(line, at)?;
            at = end;
            if !plain {
                add_figure(out, typed, base, start, at);
            }
            if plain { Shape::Number } else { Shape::Odd }
        };
        if shape != Shape::Odd {
            push(out, base, start, at, shape);
        }
        let comma = line.get(at) == Some(&b',');
        if comma {
            push(out, base, at, at + 1, Shape::Comma);
            at += 1;
        }
        if !matches!(line.get(at), None | Some(b' ' | b'\t')) {
            return None;
        }
        at = past_blanks(line, at);
    }
    Some(())
}

/// Where a number ends, and whether it is a plain one (a sign, digits, a point and digits) or another figure, told apart by
/// the same code as the grammar's.
fn number(line: &[u8], start: usize) -> Option<(usize, bool)> {
    let body = start + usize::from(matches!(line.get(start), Some(b'-' | b'+')));
    let whole = past(line, body, DIGIT);
    if whole == body {
        return None;
    }
    let mut end = whole;
    if line.get(whole) == Some(&b'.') {
        let decimals = past(line, whole + 1, DIGIT);
        end = if decimals > whole + 1 { decimals } else { whole };
    }
    if is_edge(line.get(end)) {
        return Some((end, true));
    }
    end = past(line, end, FIGURE);
    is_edge(line.get(end)).then_some((end, false))
}

const fn is_edge(next: Option<&u8>) -> bool {
    matches!(next, None | Some(b' ' | b'\t' | b','))
}

/// The quote that closes a text of ASCII alone: a curly quote would close it too.
fn closed(line: &[u8], from: usize) -> Option<usize> {
    let at = line.get(from..)?.iter().position(|byte| *byte == b'"' || !byte.is_ascii())?;
    (line.get(from + at) == Some(&b'"')).then_some(from + at)
}

/// `HH:MM` or `HH:MM..HH:MM` up to a blank or the line's end.
fn clock(line: &[u8], from: usize) -> Option<usize> {
    let face = |from: usize| {
        let colon = past(line, from, DIGIT);
        let end = past(line, colon + 1, DIGIT);
        (line.get(colon) == Some(&b':') && (1..=2).contains(&(colon - from)) && end - colon == 3)
            .then_some(end)
    };
    let mut end = face(from)?;
    if line.get(end..)?.starts_with(b"..") {
        end = face(end + 2)?;
    }
    matches!(line.get(end), None | Some(b' ' | b'\t')).then_some(end)
}
