//! Of the style of a page only the rules that something on the page can take: a page is handed out alone, with its style in it, and most of
//! the style is for other pages.
//!
//! A rule goes only where it is plain that nothing takes it: an element's name, a class or an id of its selector stands in no tag of the
//! page. What a selector asks beyond that (states, attributes, what stands beside it, whatever stands in brackets) is taken as given.
//! Must not know any page, nor any name in a style.

use super::markup::{Markup, pieces};
use cssparser::{ParseError, Parser, SourcePosition, Token};
use rustc_hash::FxHashSet;

/// At-rules that hold rules of the same kind as outside (CSS Conditional Rules, CSS Cascading and Inheritance). Any other is kept as it is.
const HOLDING: [&str; 4] = ["media", "supports", "layer", "container"];

/// The page with its first `<style>` cut down to what it needs.
#[must_use]
pub fn worn(html: String) -> String {
    const OPEN: &str = "<style>\n";
    let (Some(open), Some(body)) = (html.find(OPEN), html.find("<body")) else { return html };
    let start = open + OPEN.len();
    let css = html.get(start..body).and_then(|head| head.get(..head.find("</style>")?));
    let Some(css) = css else { return html };
    let (Some(before), Some(after)) = (html.get(..start), html.get(start + css.len()..)) else { return html };
    let kept = rules(css, &Words::of(&[before, after]));
    [before, &kept, after].concat()
}

/// Every word in the tags of a page: names of elements and attributes, and the words of their values. More than its classes, so that nothing
/// hangs on how a tag is written.
struct Words<'a> {
    typed: FxHashSet<&'a str>,
    lower: FxHashSet<String>,
}

impl<'a> Words<'a> {
    fn of(texts: &[&'a str]) -> Self {
        let mut typed = FxHashSet::default();
        for tag in texts.iter().flat_map(|text| pieces(text)) {
            if let Markup::Tag(tag) = tag {
                typed.extend(tag.split(|each: char| !is_of_a_name(each)).filter(|word| !word.is_empty()));
            }
        }
        let lower = typed.iter().map(|word| word.to_ascii_lowercase()).collect();
        Self { typed, lower }
    }
}

fn is_of_a_name(each: char) -> bool {
    each.is_ascii_alphanumeric() || matches!(each, '-' | '_') || !each.is_ascii()
}

/// The rules of a style, a line each, without those that no word of the page can take.
fn rules(css: &str, words: &Words<'_>) -> String {
    let mut out = String::new();
    block(&mut Parser::new(css), words, &mut out);
    out
}

fn block(parser: &mut Parser<'_>, words: &Words<'_>, out: &mut String) {
    loop {
        parser.skip_whitespace();
        let start = parser.position();
        let holding = match parser.next() {
            Err(_) => return,
            Ok(Token::AtKeyword(name)) => {
                Some(HOLDING.iter().any(|holding| name.eq_ignore_ascii_case(holding)))
            }
            Ok(_) => None,
        };
        let Some(prelude) = prelude(parser, start) else {
            // A statement (`@import ...;`), or something that a browser passes over too.
            out.push_str(parser.slice_from(start).trim());
            out.push('\n');
            continue;
        };
        let mut inside = String::new();
        let _ = parser.parse_nested_block(|nested| -> Result<(), ParseError<()>> {
            if holding == Some(true) {
                block(nested, words, &mut inside);
            } else {
                let from = nested.position();
                while nested.next().is_ok() {}
                inside.push_str(nested.slice_from(from).trim());
            }
            Ok(())
        });
        let heads = if holding.is_some() { prelude.trim().to_owned() } else { taken(prelude, words) };
        if heads.is_empty() || holding == Some(true) && inside.is_empty() {
            continue;
        }
        let (open, close) = if holding == Some(true) { ("{\n", "}\n") } else { ("{", "}\n") };
        out.extend([&heads, open, &inside, close]);
    }
}

/// What stands before a rule's block, whose bracket is read last; `None` where there is no block.
fn prelude<'i>(parser: &mut Parser<'i>, start: SourcePosition) -> Option<&'i str> {
    loop {
        match parser.next() {
            Ok(Token::CurlyBracketBlock) => return parser.slice_from(start).strip_suffix('{'),
            Ok(Token::Semicolon) | Err(_) => return None,
            Ok(_) => {}
        }
    }
}

/// The selectors of a list that something can take, a comma between two.
fn taken(list: &str, words: &Words<'_>) -> String {
    let each = |one: &mut Parser<'_>| {
        selector(one, words).map(str::to_owned).ok_or_else(ParseError::<()>::unexpected_token)
    };
    Parser::new(list).parse_comma_separated_ignoring_errors(each).join(", ")
}

fn selector<'i>(parser: &mut Parser<'i>, words: &Words<'_>) -> Option<&'i str> {
    parser.skip_whitespace();
    let start = parser.position();
    let can = can_be(parser, words);
    can.then(|| parser.slice_from(start).trim())
}

/// Reads one selector to its end: whether every name in it stands in some tag.
fn can_be(parser: &mut Parser<'_>, words: &Words<'_>) -> bool {
    let mut can = true;
    // What a name is of depends on what stands right before it.
    let mut before = ' ';
    while let Ok(token) = parser.next_including_whitespace_and_comments() {
        let mut mark = ' ';
        match token {
            Token::Ident(name) if before == '.' => can &= words.typed.contains(&**name),
            Token::Ident(name) if before == ' ' => can &= words.lower.contains(&name.to_ascii_lowercase()),
            Token::IDHash(name) => can &= words.typed.contains(&**name),
            Token::Delim('.') => mark = '.',
            Token::Colon => mark = ':',
            _ => {}
        }
        before = mark;
    }
    can
}
