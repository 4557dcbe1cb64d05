//! A small reader of our own pages: tags with their attributes, and the text between them.

/// A piece of a page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Piece {
    /// An opening tag: name and attributes, unescaped.
    Open(String, Vec<(String, String)>),
    /// A closing tag.
    Close(String),
    /// Text, unescaped.
    Text(String),
}

/// Tags that have no end.
const EMPTY: [&str; 5] = ["meta", "br", "hr", "img", "input"];

pub fn unescape(text: &str) -> String {
    text.replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&#x27;", "'")
        .replace("&#39;", "'")
        .replace("&#x2f;", "/")
        .replace("&amp;", "&")
}

/// Reads a page; panics on what is no well-formed HTML of the kind we write.
pub fn read(html: &str) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut rest = html;
    while let Some(at) = rest.find('<') {
        if at > 0 {
            pieces.push(Piece::Text(unescape(&rest[..at])));
        }
        let mut quoted = false;
        let tag_end = rest[at..].char_indices().find(|(_, c)| {
            quoted ^= *c == '"';
            *c == '>' && !quoted
        });
        let end = at + tag_end.expect("a tag that does not end").0;
        let tag = &rest[at + 1..end];
        rest = &rest[end + 1..];
        if tag.starts_with('!') {
            continue;
        }
        if let Some(name) = tag.strip_prefix('/') {
            pieces.push(Piece::Close(name.to_owned()));
            continue;
        }
        let name: String = tag.chars().take_while(char::is_ascii_alphanumeric).collect();
        assert!(!name.is_empty(), "a stray < before {tag:?}");
        let mut attributes = Vec::new();
        let mut left = tag[name.len()..].trim().trim_end_matches('/').trim();
        while !left.is_empty() {
            let Some((key, more)) = left.split_once("=\"") else {
                attributes.push((left.to_owned(), String::new()));
                break;
            };
            let (value, more) = more.split_once('"').expect("an attribute that does not end");
            attributes.push((key.trim().to_owned(), unescape(value)));
            left = more.trim();
        }
        pieces.push(Piece::Open(name.clone(), attributes));
        if name == "style" {
            let end = rest.find("</style>").expect("a style that does not end");
            rest = &rest[end..];
        }
    }
    pieces
}

/// Every opening tag closes, in order.
pub fn assert_nested(name: &str, pieces: &[Piece]) {
    let mut open: Vec<&str> = Vec::new();
    for piece in pieces {
        match piece {
            Piece::Open(tag, _) if !EMPTY.contains(&tag.as_str()) => open.push(tag),
            Piece::Close(tag) => {
                assert_eq!(open.pop(), Some(tag.as_str()), "{name}: </{tag}> closes nothing");
            }
            _ => {}
        }
    }
    assert!(open.is_empty(), "{name}: {open:?} left open");
}

/// The values of an attribute, with their tags.
pub fn attribute<'a>(pieces: &'a [Piece], wanted: &str) -> Vec<(&'a str, &'a str)> {
    pieces
        .iter()
        .filter_map(|piece| match piece {
            Piece::Open(tag, attributes) => Some((tag, attributes)),
            _ => None,
        })
        .flat_map(|(tag, attributes)| attributes.iter().map(move |(key, value)| (tag, key, value)))
        .filter(|(_, key, _)| *key == wanted)
        .map(|(tag, _, value)| (tag.as_str(), value.as_str()))
        .collect()
}

/// All text of a page, blanks joined.
pub fn words(pieces: &[Piece]) -> String {
    let mut text = String::new();
    let mut file = false;
    for piece in pieces {
        match piece {
            Piece::Text(words) => text.push_str(words),
            // The name of a file and its line are one word, though the name may be out of sight.
            Piece::Open(_, attributes) if attributes.iter().any(|(_, value)| value == "file") => file = true,
            Piece::Close(_) if file => file = false,
            _ => text.push(' '),
        }
    }
    // A minus and a sum are compared as they are typed.
    let text = text.replace('\u{202f}', "").replace('\u{2212}', "-");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
