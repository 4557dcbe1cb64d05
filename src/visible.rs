//! Characters that hide or that steer a terminal, and what stands for them where people read.
//!
//! Control characters (C0, C1, delete) move a cursor, repaint or rename a window (ECMA-48). Marks that turn the direction of
//! writing show a text in another order than it is typed (Unicode Standard Annex 9). What has no width cannot be seen at
//! all (`Default_Ignorable_Code_Point` of the Unicode Character Database). Anyone may call this; it must know nothing else.

use std::borrow::Cow;

/// Whether a character is not seen as itself: it steers, turns, parts lines or has no width. A line end and a tab are
/// among them.
#[must_use]
pub const fn hides(c: char) -> bool {
    matches!(c,
        '\0'..='\u{1F}' | '\u{7F}'..='\u{9F}' | '\u{AD}' | '\u{34F}' | '\u{61C}' | '\u{115F}' | '\u{1160}'
        | '\u{17B4}' | '\u{17B5}' | '\u{180B}'..='\u{180F}' | '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}'
        | '\u{2060}'..='\u{206F}' | '\u{3164}' | '\u{FE00}'..='\u{FE0F}' | '\u{FEFF}' | '\u{FFA0}'
        | '\u{FFF0}'..='\u{FFFB}' | '\u{1BCA0}'..='\u{1BCA3}' | '\u{1D173}'..='\u{1D17A}'
        | '\u{E0000}'..='\u{E0FFF}')
}

/// Joiners and variation selectors: behind a letter beyond ASCII they are how some scripts are spelled.
const fn joins(c: char) -> bool {
    matches!(c,
        '\u{200C}' | '\u{200D}' | '\u{180B}'..='\u{180D}' | '\u{180F}' | '\u{FE00}'..='\u{FE0F}'
        | '\u{E0100}'..='\u{E01EF}')
}

/// What stands for a character that hides: the control pictures of Unicode where there is one, else U+FFFD.
#[must_use]
pub const fn picture(c: char) -> char {
    match c {
        '\0'..='\u{1F}' => match char::from_u32(0x2400 + c as u32) {
            Some(picture) => picture,
            None => char::REPLACEMENT_CHARACTER,
        },
        '\u{7F}' => '\u{2421}',
        _ => char::REPLACEMENT_CHARACTER,
    }
}

/// Text for a terminal: everything in it can be seen and nothing in it steers. Line ends stay; a tab is four blanks.
#[must_use]
pub fn text(text: &str) -> Cow<'_, str> {
    replaced(text, |out, c| match c {
        '\n' => out.push(c),
        '\t' => out.push_str("    "),
        _ => out.push(picture(c)),
    })
}

/// The same of a page: what HTML can name is named, so that a browser shows the page as it would from a file.
#[must_use]
pub fn html(page: &str) -> Cow<'_, str> {
    replaced(page, |out, c| match c {
        '\n' => out.push(c),
        // The one line end of HTML (WHATWG, "preprocessing the input stream"): the line feed behind it is the same one.
        '\r' => {}
        '\t' => out.push_str("&#9;"),
        '\0'..='\u{9F}' => out.push(picture(c)),
        _ => out.push_str(&format!("&#x{:X};", c as u32)),
    })
}

/// Plain data as a JSON document, indented, ending in a line end. A character that hides can stand in a string only (RFC 8259): it is
/// written as an escape, and whoever reads the document has the character itself. Ours hold only what JSON can say.
#[must_use]
pub fn json(data: &impl serde::Serialize) -> String {
    escaped(&(serde_json::to_string_pretty(data).unwrap_or_default() + "\n"))
}

/// The same on one line and without a line end: a message to a program.
#[must_use]
pub fn json_line(data: &impl serde::Serialize) -> String {
    escaped(&serde_json::to_string(data).unwrap_or_default())
}

fn escaped(document: &str) -> String {
    let escaped = replaced(document, |out, c| {
        if matches!(c, '\n' | '\t' | '\r') {
            return out.push(c);
        }
        for unit in c.encode_utf16(&mut [0; 2]) {
            out.push_str(&format!("\\u{unit:04x}"));
        }
    });
    escaped.into_owned()
}

/// Text that has been styled already: sequences that set colour and weight (ECMA-48, SGR) stay, all else is made visible.
/// The caller sees to it that none of them was typed.
#[must_use]
pub fn styled(styled: &str) -> Cow<'_, str> {
    const START: &str = "\u{1b}[";
    if !styled.contains(START) {
        return text(styled);
    }
    let mut out = String::with_capacity(styled.len());
    let mut pieces = styled.split(START);
    out.push_str(&text(pieces.next().unwrap_or_default()));
    for piece in pieces {
        let end =
            piece.bytes().position(|byte| !(byte.is_ascii_digit() || byte == b';')).unwrap_or(piece.len());
        match piece.get(end..) {
            Some(rest) if rest.starts_with('m') => {
                out.push_str(START);
                out.push_str(piece.get(..=end).unwrap_or_default());
                out.push_str(&text(rest.get(1..).unwrap_or_default()));
            }
            _ => {
                out.push_str(&text(START));
                out.push_str(&text(piece));
            }
        }
    }
    Cow::Owned(out)
}

/// Text with every character that hides replaced; most texts have none and are handed back.
fn replaced(text: &str, replace: impl Fn(&mut String, char)) -> Cow<'_, str> {
    let plain = |byte: u8| byte == b'\n' || matches!(byte, b' '..=b'~');
    if text.bytes().all(plain) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 16);
    // A joiner belongs to the letter before it.
    let mut letter = false;
    for c in text.chars() {
        let spelled = letter && joins(c);
        if hides(c) && !spelled {
            replace(&mut out, c);
            letter = false;
        } else {
            out.push(c);
            letter = spelled || !c.is_ascii() && !c.is_whitespace();
        }
    }
    Cow::Owned(out)
}
