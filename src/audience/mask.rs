//! The mask: covers names that are not a reader's in any text, whole words with their plural and possessive.
//!
//! Built once for a reader. What is read in the place of a name tells nothing of its length. Must not know whose names they are,
//! nor where the texts stand.

use crate::book::model::Named;
use crate::book::phrases::{Phrases, words};
use crate::book::telling::{Ordinary, telling};
use crate::source::covered::{COVER, signed};
use pulldown_cmark::{Event, Parser};
use std::collections::BTreeSet;
use std::ops::Range;

/// Names of the reader's own, as their words.
#[derive(Debug, Clone, Default)]
pub(super) struct Own {
    /// Names and titles: another's of the same words is not hidden.
    pub(super) names: BTreeSet<Vec<String>>,
    /// Words that only another title's word gives way to.
    pub(super) words: BTreeSet<Vec<String>>,
}

/// Covers names.
#[derive(Debug, Default)]
pub(super) struct Mask {
    /// What is covered in texts.
    hidden: Phrases,
    /// What no path may name: ordinary words too.
    paths: Phrases,
}

impl Mask {
    /// Hides a name, unless it is ordinary words or the reader's own.
    pub(super) fn name(&mut self, name: &str, ordinary: &Ordinary, own: &Own) {
        let words = words(name);
        if !own.names.contains(&words) && !words.iter().all(|word| ordinary.has(word)) {
            self.hidden.add(name, 0, |word| ordinary.has(word) || own.names.contains(&vec![word.to_owned()]));
        }
    }

    /// Hides a name that no path may have either, ordinary or not.
    pub(super) fn person_name(&mut self, name: &str, ordinary: &Ordinary, own: &Own) {
        self.name(name, ordinary, own);
        if !own.names.contains(&words(name)) {
            self.paths.add(name, 0, |_| false);
        }
    }

    /// Hides a whole title: one of ordinary words only where it is typed alike.
    pub(super) fn title(&mut self, title: &str, ordinary: &Ordinary, own: &Own) {
        let words = words(title);
        if own.names.contains(&words) {
        } else if !ordinary.is_all_of(title) {
            self.name(title, ordinary, own);
        } else if words.len() > 1 {
            self.hidden.add_exact(title, 0);
        }
    }

    /// Hides somebody: his name, his title, and the words of it that tell who he is.
    pub(super) fn person(&mut self, named: &Named, ordinary: &Ordinary, own: &Own) {
        self.person_name(&named.name, ordinary, own);
        self.title(&named.title, ordinary, own);
        for word in telling(&named.title).into_iter().filter(|word| !own.words.contains(&vec![word.clone()]))
        {
            self.name(&word, ordinary, own);
        }
    }

    /// The bytes of a text that are to be covered.
    pub(super) fn ranges(&self, text: &str) -> Vec<Range<usize>> {
        self.hidden.find(text).into_iter().map(|found| found.at).collect()
    }

    /// The bytes of a note that are to be covered: names in its source, and names that only show once its Markdown is read.
    pub(super) fn ranges_of_note(&self, note: &str) -> Vec<Range<usize>> {
        let mut ranges = self.ranges(note);
        let (mut shown, mut from) = (String::new(), Vec::new());
        for (event, at) in Parser::new(note).into_offset_iter() {
            let text = match &event {
                Event::Text(text) | Event::Code(text) | Event::Html(text) | Event::InlineHtml(text) => text,
                Event::SoftBreak | Event::HardBreak | Event::End(pulldown_cmark::TagEnd::Paragraph) => " ",
                _ => continue,
            };
            shown.push_str(text);
            // Byte by byte where it shows as it is typed; an entity is one piece.
            if note.get(at.clone()) == Some(text) {
                from.extend(at.map(|byte| byte..byte + 1));
            } else {
                from.resize(shown.len(), at);
            }
        }
        for found in self.hidden.find(&shown) {
            let touched = from.get(found.at).unwrap_or_default();
            if let (Some(first), Some(last)) = (touched.first(), touched.last()) {
                ranges.push(first.start..last.end);
            }
        }
        ranges
    }

    /// A text with the names covered.
    pub(super) fn text(&self, text: &str) -> String {
        let mut bytes = text.as_bytes().to_vec();
        for at in self.ranges(text) {
            if let Some(bytes) = bytes.get_mut(at) {
                bytes.fill(COVER);
            }
        }
        signed(&String::from_utf8_lossy(&bytes))
    }

    /// The same in place.
    pub(super) fn cover(&self, text: &mut String) {
        *text = self.text(text);
    }

    /// The same of a declared thing's name and title.
    pub(super) fn named(&self, named: &mut Named) {
        let Named { name, typed, title, declared: _ } = named;
        *name = self.text(name).into();
        *typed = self.text(typed).into();
        self.cover(title);
    }

    /// Whether a path names somebody.
    pub(super) fn names_in_path(&self, path: &str) -> bool {
        !self.hidden.find(path).is_empty() || !self.paths.find(path).is_empty()
    }
}
