//! Numbers as they are set in print: real minus signs, thousands apart.
//!
//! Must not know any page.

use super::markup::{Markup, pieces};

/// A text with a real minus (U+2212) before every number that has a hyphen there. Ledgers take either.
#[must_use]
pub fn minus(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut before = ' ';
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        let sign = c == '-'
            && (before.is_whitespace() || before == '(')
            && rest.peek().is_some_and(char::is_ascii_digit);
        out.push(if sign { '\u{2212}' } else { c });
        before = c;
    }
    out
}

/// Amounts with a narrow no-break space (U+202F) between every three digits, where there are five or more before the point (four are read
/// at one glance: ISO 80000-1, 7.3.1, leaves them together), and real minus signs. For texts that are amounts, never for names.
#[must_use]
pub fn digits(text: &str) -> String {
    let grouped = |word: &str| {
        let body = word.trim_start_matches(['-', '+', '\u{2212}', '(']);
        let sign = word.get(..word.len() - body.len()).unwrap_or_default();
        let whole = body.bytes().take_while(u8::is_ascii_digit).count();
        let (before, after) = body.split_at(whole);
        let rest = after.strip_prefix('.').unwrap_or(after).trim_end_matches([',', ')', ';', '.']);
        if whole < 5 || !rest.bytes().all(|byte| byte.is_ascii_digit()) {
            return word.to_owned();
        }
        let mut out = sign.to_owned();
        for (index, digit) in before.chars().enumerate() {
            if index > 0 && (whole - index) % 3 == 0 {
                out.push('\u{202f}');
            }
            out.push(digit);
        }
        out + after
    };
    minus(&text.split(' ').map(grouped).collect::<Vec<_>>().join(" "))
}

/// Elements whose words are typed somewhere, or are no words: they stay as they are.
const AS_TYPED: [&str; 5] = ["code", "pre", "style", "script", "textarea"];

/// A page with a real minus (U+2212) before every number that has a hyphen there: one that opens an element, or stands behind a blank or a
/// bracket. What stands in a tag, and in an element of what is to be typed, stays.
#[must_use]
pub fn signs(html: &str) -> String {
    let mut out = String::with_capacity(html.len() + html.len() / 64);
    let mut kept: Option<&str> = None;
    // Whether words begin here: behind a tag that closes an element those before it go on.
    let mut opens = true;
    for piece in pieces(html) {
        match piece {
            Markup::Words(words) if kept.is_some() => out.push_str(words),
            Markup::Words(words) => push_signed(&mut out, words, opens),
            Markup::Tag(tag) => {
                out.push_str(tag);
                let closes = tag.starts_with("</");
                let name = tag.trim_start_matches(['<', '/']).split(['>', ' ', '\n']).next();
                let of = AS_TYPED.into_iter().find(|known| name == Some(*known));
                match (kept, closes) {
                    (Some(open), true) if of == Some(open) => kept = None,
                    (None, false) => kept = of,
                    _ => {}
                }
                opens = !closes;
            }
        }
    }
    out
}

fn push_signed(out: &mut String, words: &str, opens: bool) {
    let mut done = 0;
    for (at, _) in words.match_indices('-') {
        let before = words.get(..at).and_then(|before| before.chars().next_back());
        let stands = before.map_or(opens, |last| last.is_whitespace() || last == '(');
        let number = words.get(at + 1..).is_some_and(|after| after.starts_with(|c: char| c.is_ascii_digit()));
        if stands && number {
            out.push_str(words.get(done..at).unwrap_or_default());
            out.push('\u{2212}');
            done = at + 1;
        }
    }
    out.push_str(words.get(done..).unwrap_or_default());
}
