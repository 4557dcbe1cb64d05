//! A page as its tags and the words between them, one after the other: all of it, byte for byte.
//!
//! Must not know what any element is for.

/// A piece of a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Markup<'a> {
    /// From its bracket to its bracket.
    Tag(&'a str),
    /// What stands between two tags; a bracket that opens no tag is of them.
    Words(&'a str),
}

/// The pieces of a page, in order. A `>` in quotes does not end a tag.
pub fn pieces(html: &str) -> impl Iterator<Item = Markup<'_>> {
    let mut rest = html;
    std::iter::from_fn(move || {
        let first = rest.starts_with('<');
        let is_tag = first && rest.get(1..).is_some_and(|after| after.starts_with(opens_a_tag));
        let end = if is_tag {
            tag(rest)
        } else {
            let from = usize::from(first);
            rest.get(from..).and_then(|after| after.find('<')).map_or(rest.len(), |at| from + at)
        };
        let (piece, after) = rest.split_at(end);
        rest = after;
        (end > 0).then_some(if is_tag { Markup::Tag(piece) } else { Markup::Words(piece) })
    })
}

fn opens_a_tag(after: char) -> bool {
    after.is_ascii_alphabetic() || matches!(after, '/' | '!')
}

/// How far the tag goes that a text begins with.
fn tag(text: &str) -> usize {
    let mut quote = None;
    let end = text.find(|each: char| {
        match (quote, each) {
            (None, '"' | '\'') => quote = Some(each),
            (Some(open), _) if open == each => quote = None,
            _ => {}
        }
        each == '>' && quote.is_none()
    });
    end.map_or(text.len(), |end| end + 1)
}
