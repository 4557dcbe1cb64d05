//! Finding names in free text: whole words, whatever their capitals, accents and apostrophes.
//!
//! A word is a run of letters and digits. Letters are compared without case and accents, composed or not; an apostrophe inside a
//! word, a soft hyphen and a mark without width are nothing, so `Smith's` is `smiths`, the plural of `smith`. Markdown's
//! marks part words and, read once more, are nothing: `**Sm**ith`. Must not know whose names they are.

use crate::visible::hides;
use rustc_hash::FxHashMap;
use std::collections::BTreeSet;
use std::ops::Range;
use unicode_normalization::char::{decompose_compatible, is_combining_mark};

/// Names to find. Each has an owner, a number of the caller's own.
#[derive(Debug, Clone, Default)]
pub struct Phrases {
    /// By first word, how many words the names have that begin with it: thousands of names may.
    lengths: FxHashMap<Box<str>, BTreeSet<usize>>,
    /// By all words, with blanks between.
    names: FxHashMap<Box<str>, Vec<Name>>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
struct Name {
    /// Only as typed here, capitals and all.
    exact: Option<Box<str>>,
    owner: u32,
}

/// A place in a text where a name stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// Its bytes.
    pub at: Range<usize>,
    /// Whose it is.
    pub owner: u32,
}

/// How much may stand between two words of a name.
const GAP: usize = 8;

impl Phrases {
    /// Adds a name, with the plural of its last word.
    pub fn add(&mut self, name: &str, owner: u32, spared: impl Fn(&str) -> bool) {
        let words = words(name);
        let Some((last, before)) = words.split_last() else { return };
        self.put(&words, None, owner);
        let alone = before.is_empty();
        for other in inflected(last).filter(|word| !(alone && spared(word))) {
            let mut words = before.to_vec();
            words.push(other);
            self.put(&words, None, owner);
        }
    }

    /// Adds a name that is found only as it is typed, because its words are ordinary ones.
    pub fn add_exact(&mut self, name: &str, owner: u32) {
        self.put(&words(name), Some(name.into()), owner);
    }

    fn put(&mut self, words: &[String], exact: Option<Box<str>>, owner: u32) {
        let Some(first) = words.first() else { return };
        self.lengths.entry(first.as_str().into()).or_default().insert(words.len());
        let list = self.names.entry(words.join(" ").into()).or_default();
        let name = Name { exact, owner };
        if !list.contains(&name) {
            list.push(name);
        }
    }

    /// Whether there is no name to find.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.names.is_empty()
    }

    /// Every place where a name stands, in order; places may overlap.
    #[must_use]
    pub fn find(&self, text: &str) -> Vec<Found> {
        let mut found = Vec::new();
        if self.is_empty() {
            return found;
        }
        self.pass(text, false, &mut found);
        if text.contains(is_mark) {
            self.pass(text, true, &mut found);
        }
        found.sort_by_key(|one| (one.at.start, one.at.end));
        found.dedup();
        found
    }

    fn pass(&self, text: &str, joined: bool, found: &mut Vec<Found>) {
        let (mut from, mut word, mut more) = (0, String::new(), String::new());
        while let Some(first) = next_word(text, from, joined, &mut word) {
            from = first.end;
            let Some(lengths) = self.lengths.get(word.as_str()) else { continue };
            let (mut words, mut end) = (1, first.end);
            for length in lengths {
                while words < *length {
                    let Some(next) = next_word(text, end, joined, &mut more) else { break };
                    let gap = text.get(end..next.start).unwrap_or_default();
                    if gap.len() > GAP || gap.contains('\n') {
                        break;
                    }
                    word.push(' ');
                    word.push_str(&more);
                    (words, end) = (words + 1, next.end);
                }
                if words < *length {
                    break;
                }
                let typed = text.get(first.start..end);
                let names = self.names.get(word.as_str()).into_iter().flatten();
                let names = names.filter(|name| name.exact.is_none() || name.exact.as_deref() == typed);
                found.extend(names.map(|name| Found { at: first.start..end, owner: name.owner }));
            }
        }
    }
}

/// The words of a text as they are compared.
#[must_use]
pub fn words(text: &str) -> Vec<String> {
    places(text).map(|(_, word)| word).collect()
}

/// The words of a text with their bytes.
pub fn places(text: &str) -> impl Iterator<Item = (Range<usize>, String)> + '_ {
    let mut from = 0;
    std::iter::from_fn(move || {
        let mut word = String::new();
        let at = next_word(text, from, false, &mut word)?;
        from = at.end;
        Some((at, word))
    })
}

/// The other shapes of a word: its plural, or its singular.
fn inflected(word: &str) -> impl Iterator<Item = String> {
    let long = word.chars().count() >= 3 && word.chars().all(char::is_alphabetic);
    let mut all = vec![format!("{word}s")];
    if long {
        all.push(format!("{word}es"));
        for (end, other) in [("y", "ies"), ("f", "ves"), ("fe", "ves"), ("s", ""), ("es", ""), ("ies", "y")] {
            let stem = word.strip_suffix(end).filter(|stem| stem.chars().count() >= 3 || !other.is_empty());
            all.extend(stem.map(|stem| format!("{stem}{other}")));
        }
    }
    all.into_iter()
}

/// The next word from a byte on; `joined` reads over Markdown's marks inside a word.
fn next_word(text: &str, from: usize, joined: bool, word: &mut String) -> Option<Range<usize>> {
    word.clear();
    let mut start = None;
    let mut end = from;
    let mut chars = text.get(from..)?.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        if is_part(c) {
            start.get_or_insert(from + at);
            end = from + at + c.len_utf8();
            fold(c, word);
            continue;
        }
        let silent = |c: char| is_silent(c) || is_apostrophe(c) || joined && is_mark(c);
        if start.is_none() {
            continue;
        }
        if !silent(c) {
            break;
        }
        // Inside a word only: what follows must be part of it.
        while chars.next_if(|(_, next)| silent(*next)).is_some() {}
        if !chars.peek().is_some_and(|(_, next)| is_part(*next)) {
            break;
        }
    }
    start.map(|start| start..end)
}

fn is_part(c: char) -> bool {
    (c.is_alphanumeric() || is_combining_mark(c)) && !is_silent(c)
}

fn is_apostrophe(c: char) -> bool {
    matches!(c, '\'' | '\u{2018}' | '\u{2019}' | '\u{2bc}' | '\u{2032}' | '\u{ff07}' | '\u{b4}')
}

/// Marks that are not seen; blanks and line ends part words all the same.
fn is_silent(c: char) -> bool {
    hides(c) && !c.is_control() && !c.is_whitespace()
}

/// Marks of Markdown that may stand inside a word.
fn is_mark(c: char) -> bool {
    matches!(c, '*' | '_' | '~' | '`' | '\\')
}

fn fold(c: char, word: &mut String) {
    if c.is_ascii() {
        word.push(c.to_ascii_lowercase());
        return;
    }
    decompose_compatible(c, |part| {
        if is_combining_mark(part) {
            return;
        }
        for small in part.to_lowercase().filter(|small| !is_combining_mark(*small)) {
            match small {
                'ß' => word.push_str("ss"),
                'ς' => word.push('σ'),
                other => word.push(other),
            }
        }
    });
}
