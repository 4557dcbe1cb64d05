//! Whom the words of a text name as its readers, where it cannot be read as a line: the narrowest after any `for`, the shop alone where
//! that is none.
//!
//! Must not know clauses, nor what the text is.

use super::entry::Audience;
use crate::syntax::{Cursor, Shape};

/// Who may read a line that could not be read to its end: whom its `for` names, the shop alone where that is none.
#[must_use]
pub fn audience_of_broken(mut cur: Cursor<'_>) -> Option<Audience> {
    let line = cur.line();
    let text = cur.text.get(line.start as usize..line.end as usize).unwrap_or_default();
    // A line that is not even words has its text.
    if cur.is_done() {
        return audience_in(text);
    }
    narrowest(std::iter::from_fn(|| {
        let word = cur.peek()?;
        cur.bump();
        Some(if word.shape == Shape::Word { cur.str(word) } else { "" })
    }))
}

/// Whom a text names after any `for` in it, the narrowest; the shop alone where that is none.
fn audience_in(text: &str) -> Option<Audience> {
    let typed = text.split(|each: char| !(each.is_alphanumeric() || each == '-'));
    narrowest(typed.filter(|word| !word.is_empty()))
}

/// The same of what stands outside quotes.
#[must_use]
pub fn audience_outside_quotes(text: &str) -> Option<Audience> {
    narrowest(outside_quotes(text))
}

/// The words of a text that stand outside quotes; of a quote that nobody closes those inside too.
pub fn outside_quotes(text: &str) -> impl Iterator<Item = &str> {
    let quotes = text.matches('"').count();
    text.split('"')
        .enumerate()
        .filter(move |(at, _)| at % 2 == 0 || quotes % 2 == 1 && *at == quotes)
        .flat_map(|(_, outside)| outside.split(|letter: char| letter.is_whitespace() || letter == ','))
        .filter(|word| !word.is_empty())
}

fn narrowest<'a>(words: impl Iterator<Item = &'a str>) -> Option<Audience> {
    let mut words = words.peekable();
    let mut narrowest = None;
    while let Some(word) = words.next() {
        if word.eq_ignore_ascii_case("for") {
            let named = words.peek().and_then(|next| Audience::find(next)).unwrap_or(Audience::Shop);
            narrowest = Some(narrowest.map_or(named, |before: Audience| before.min(named)));
        }
    }
    narrowest
}
