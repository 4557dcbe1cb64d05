//! A short cut for the usual lines: words, numbers, figures, quoted text, clocks, reasons and comments.
//!
//! The grammar stays the definition. This reader gives up (`None`) on anything it is not sure of (letters and blanks
//! beyond ASCII outside quotes, curly quotes, tolerances), and `tests/agreement` and the fuzz target hold it to the
//! same words as pest. Why it exists: `tests/benches` shows pest alone at several times the allowed 40 line walks.

#![expect(clippy::indexing_slicing, reason = "the table has a class for every byte")]

use super::pieces::{add_figure, push, reason};
use super::tree::{LineKind, Shape, Word};

const LETTER: u8 = 1;
const WORD: u8 = 2;
const DIGIT: u8 = 4;
const FIGURE: u8 = 8;

/// What each ASCII byte may be part of; the same sets as `word_start`, `word_more`, digits and `figure_more` in
/// `line.pest`.
const CLASS: [u8; 256] = {
    let mut class = [0; 256];
    let mut byte = 0;
    while byte < 128 {
        let each = byte as u8;
        if each.is_ascii_alphabetic() || each == b'%' {
            class[byte] |= LETTER | WORD | FIGURE;
        }
        if each >= b'-' && each <= b':' || matches!(each, b'_' | b'\'') {
            class[byte] |= WORD | FIGURE;
        }
        if matches!(each, b'^' | b'(' | b')' | b'*' | b'&' | b'@' | b'~') {
            class[byte] |= WORD;
        }
        if each == b'+' {
            class[byte] |= FIGURE;
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

/// Reads the words of a line of that kind from byte `at`; `None` (with nothing pushed) when the line is not plain.
pub fn words(out: &mut Vec<Word>, line: &str, at: usize, base: u32, kind: LineKind) -> Option<()> {
    let before = out.len();
    let read = match kind {
        LineKind::Entry => entry(out, line, at, base),
        LineKind::Declaration if CLASS[usize::from(*line.as_bytes().get(at)?)] & LETTER != 0 => {
            let end = past(line.as_bytes(), at + 1, WORD);
            push(out, base, at, end, Shape::Word);
            after(out, line, end, base)
        }
        LineKind::Head => {
            let end = date(line.as_bytes())?;
            push(out, base, 0, end, Shape::Date);
            after(out, line, end, base)
        }
        LineKind::Note => note(out, line, at, base),
        _ => None,
    };
    if read.is_none() {
        out.truncate(before);
    }
    read
}

fn entry(out: &mut Vec<Word>, line: &str, at: usize, base: u32) -> Option<()> {
    let bytes = line.as_bytes();
    let Some(end) = clock(bytes, at) else { return rest(out, line, at, base, true) };
    push(out, base, at, end, Shape::Clock);
    if end == bytes.len() {
        return Some(());
    }
    rest(out, line, past_blanks(bytes, end), base, true)
}

/// A note, perhaps with a time in front; one with an offset behind that is left to the grammar.
fn note(out: &mut Vec<Word>, line: &str, at: usize, base: u32) -> Option<()> {
    let bytes = line.as_bytes();
    let mut bar = at;
    if let Some(end) = clock(bytes, at) {
        push(out, base, at, end, Shape::Clock);
        bar = past_blanks(bytes, end);
    }
    if bytes.get(bar) != Some(&b'|') {
        return None;
    }
    push(out, base, bar + 1, line.len(), Shape::Text);
    Some(())
}

/// Whether a line that starts with a digit at `at` is a note with a time in front, perhaps with an offset: `10:30 | a puncture`.
pub fn is_timed_note(line: &str, at: usize) -> bool {
    let bytes = line.as_bytes();
    let Some(end) = clock(bytes, at) else { return false };
    let mut bar = past_blanks(bytes, end);
    if matches!(bytes.get(bar), Some(b'+' | b'-')) {
        let blank =
            bytes.get(bar..).and_then(|rest| rest.iter().position(|byte| matches!(byte, b' ' | b'\t')));
        bar = past_blanks(bytes, bar + blank.unwrap_or(0));
    }
    bytes.get(bar) == Some(&b'|')
}

/// From right behind a word.
fn after(out: &mut Vec<Word>, line: &str, at: usize, base: u32) -> Option<()> {
    let next = past_blanks(line.as_bytes(), at);
    if next == line.len() {
        return Some(());
    }
    if next == at { None } else { rest(out, line, next, base, false) }
}

/// The items from `at` on, where one must stand; `because` is a plain word where it is the `first`.
fn rest(out: &mut Vec<Word>, line: &str, mut at: usize, base: u32, mut first: bool) -> Option<()> {
    let bytes = line.as_bytes();
    loop {
        let start = at;
        let byte = *bytes.get(at)?;
        if CLASS[byte as usize] & LETTER != 0 {
            at = past(bytes, at + 1, WORD);
            if at - start == 7 && bytes.get(start..at)?.eq_ignore_ascii_case(b"because") {
                if first || !matches!(bytes.get(at), None | Some(b' ' | b'\t')) {
                    return None;
                }
                let (from, to) = reason(line, start, line.len());
                push(out, base, from, to, Shape::Because);
                return Some(());
            }
            push(out, base, start, at, Shape::Word);
        } else if byte == b'"' {
            at = closing(bytes, at + 1)? + 1;
            push(out, base, start, at, Shape::Text);
        } else if byte == b'#' {
            let opens = matches!(bytes.get(at + 1), None | Some(b' ' | b'\t' | b'#'));
            return opens.then_some(());
        } else if byte == b'-' && bytes.get(at + 1) == Some(&b'>') {
            at += 2;
            push(out, base, start, at, Shape::Arrow);
        } else if matches!(byte, b'-' | b'?') && is_edge(bytes.get(at + 1)) {
            at += 1;
            push(out, base, start, at, if byte == b'-' { Shape::Dash } else { Shape::Unknown });
        } else {
            at = figure(out, line, at, base)?;
        }
        if !is_edge(bytes.get(at)) {
            return None;
        }
        if bytes.get(at) == Some(&b',') {
            if !matches!(bytes.get(at + 1), None | Some(b' ' | b'\t')) {
                return None;
            }
            push(out, base, at, at + 1, Shape::Comma);
            at += 1;
        }
        at = past_blanks(bytes, at);
        if at == bytes.len() {
            return Some(());
        }
        first = false;
    }
}

/// A number, or another word that starts like one; where it ends.
fn figure(out: &mut Vec<Word>, line: &str, start: usize, base: u32) -> Option<usize> {
    let bytes = line.as_bytes();
    let body = start + usize::from(matches!(bytes.get(start), Some(b'-' | b'+')));
    let mut at = past(bytes, body, DIGIT);
    if at == body {
        return None;
    }
    if bytes.get(at) == Some(&b'.') {
        let decimals = past(bytes, at + 1, DIGIT);
        at = if decimals == at + 1 { at } else { decimals };
    }
    if is_edge(bytes.get(at)) {
        push(out, base, start, at, Shape::Number);
    } else {
        at = past(bytes, at, FIGURE);
        if !is_edge(bytes.get(at)) {
            return None;
        }
        add_figure(out, line, base, start, at);
    }
    Some(at)
}

/// The straight quote that closes a text; `None` where a curly one closes it, or none.
fn closing(line: &[u8], mut from: usize) -> Option<usize> {
    loop {
        let rest = line.get(from..)?;
        let at = memchr::memchr2(b'"', 0xE2, rest)?;
        if rest.get(at) == Some(&b'"') {
            return Some(from + at);
        }
        // Three bytes of some mark: a curly quote, or a dash or the like that is text.
        if matches!(rest.get(at..at + 3), Some([_, 0x80, 0x9C..=0x9E])) {
            return None;
        }
        from += at + 1;
    }
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

/// A date at the line's start, up to an edge.
fn date(line: &[u8]) -> Option<usize> {
    let digits = |from: usize, many: usize| past(line, from, DIGIT) - from == many;
    let is_date = digits(0, 4)
        && line.get(4) == Some(&b'-')
        && digits(5, 2)
        && line.get(7) == Some(&b'-')
        && digits(8, 2);
    (is_date && is_edge(line.get(10)) && line.get(10) != Some(&b',')).then_some(10)
}
