//! What was wrong with a line that the grammar refused, found by looking for the slips people make.
//!
//! Must not know what any word means.

use super::kind::LineKind;
use crate::source::{FileId, Span};

/// A line that could not be read, and why.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Trouble {
    /// The slip.
    pub mistake: Mistake,
    /// Where on the line.
    pub span: Span,
}

/// The slips that are told apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mistake {
    /// More than [`super::MAX_LINE`] bytes.
    LineTooLong,
    /// A quote that never closes.
    QuoteOpen,
    /// `1,5`: a comma inside a number.
    DecimalComma,
    /// `a,b`: a comma with nothing after it to separate.
    CommaGlued,
    /// `3/4/26`, `18.4.2026`: a date that is not year-month-day.
    DateOrder,
    /// Column 0 starts with something that is neither a date nor a word.
    HeadUnreadable,
    /// A quote closed and the next word follows without a blank.
    QuoteGlued,
    /// None of the above.
    Unreadable,
}

/// Looks for the slip in a line that did not parse.
pub fn explain(file: FileId, line: &str, base: u32, kind: LineKind) -> Trouble {
    let trouble = |mistake, from: usize, to: usize| Trouble {
        mistake,
        span: Span::new(file, base + from as u32, base + to.min(line.len()) as u32),
    };
    if kind == LineKind::Head {
        let end = line.find([' ', '\t', ',']).unwrap_or(line.len());
        let (first, _) = line.split_at(end);
        let mistake = if looks_like_a_date(first) { Mistake::DateOrder } else { Mistake::HeadUnreadable };
        if !is_iso(first) {
            return trouble(mistake, 0, end);
        }
    }
    let mut open: Option<usize> = None;
    let mut before = ' ';
    for (at, each) in line.char_indices() {
        let (earlier, from_it) = line.split_at(at);
        let next = from_it.chars().nth(1);
        if matches!(each, '"' | '\u{201C}' | '\u{201D}' | '\u{201E}') {
            if open.take().is_none() {
                open = Some(at);
            } else if next.is_some_and(|next| !matches!(next, ' ' | '\t' | ',' | '\u{A0}')) {
                return trouble(Mistake::QuoteGlued, at, at + 1);
            }
        } else if open.is_none()
            && each == ','
            && next.is_some_and(|next| !matches!(next, ' ' | '\t' | '\u{A0}'))
        {
            let digits = before.is_ascii_digit() && next.is_some_and(|next| next.is_ascii_digit());
            let from = earlier.rfind([' ', '\t']).map_or(0, |blank| blank + 1);
            let to = from_it.find([' ', '\t']).map_or(line.len(), |blank| at + blank);
            return trouble(if digits { Mistake::DecimalComma } else { Mistake::CommaGlued }, from, to);
        }
        before = each;
    }
    if let Some(at) = open {
        return trouble(Mistake::QuoteOpen, at, line.len());
    }
    // A comma with nothing before it, or (after a date at the margin) one that stands where a blank must.
    let before = std::iter::once(b' ').chain(line.bytes());
    let stray = before
        .zip(line.bytes())
        .position(|(before, byte)| byte == b',' && matches!(before, b' ' | b'\t' | b','));
    let after_head = (kind != LineKind::Entry)
        .then(|| line.find([' ', '\t', ',']).filter(|&at| line.split_at(at).1.starts_with(',')))
        .flatten();
    if let Some(at) = stray.or(after_head) {
        return trouble(Mistake::Unreadable, at, at + 1);
    }
    let plain = line.trim_start();
    let lead = line.len() - plain.len();
    let end = if kind == LineKind::Entry { None } else { plain.find([' ', '\t']).map(|end| lead + end) };
    trouble(
        if kind == LineKind::Declaration { Mistake::HeadUnreadable } else { Mistake::Unreadable },
        lead,
        end.unwrap_or(line.len()),
    )
}

fn is_iso(text: &str) -> bool {
    let [year @ .., b'-', _, _, b'-', _, _] =
        text.as_bytes().first_chunk::<10>().map_or(&[][..], |date| date)
    else {
        return false;
    };
    year.iter().all(u8::is_ascii_digit)
}

/// Whether a word is numbers with slashes, points or dashes between, as people write dates.
#[must_use]
pub fn looks_like_a_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split(['/', '.', '-']).collect();
    (2..=3).contains(&parts.len())
        && parts
            .iter()
            .all(|part| !part.is_empty() && part.len() <= 4 && part.bytes().all(|byte| byte.is_ascii_digit()))
}
