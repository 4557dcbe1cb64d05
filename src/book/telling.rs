//! Which words tell who somebody is, and which are ordinary.
//!
//! A client's name and the words of his title with a capital tell who he is, and are masked in what others read. A word that
//! anybody uses cannot be: it would take half the sentences with it. What is ordinary is decided without a dictionary: the words
//! of the language itself (verbs, clauses, properties, units, places, quantities), the kinds, positions and quantities of the
//! book by name, and a short list ([`LIST`]). The words of kinds' titles are not: a title may name somebody. Must not know readers.

use super::Book;
use super::clause::CLAUSES;
use super::declare::{DECLARATIONS, names_of};
use super::entry::{Audience, CostKind, Verb};
use super::phrases::{places, words};
use rustc_hash::FxHashSet;
use std::sync::LazyLock;

/// Ordinary words, as data.
pub const LIST: &str = include_str!("ordinary.txt");

/// Words of lines that stand in no table.
const OTHERS: [&str; 24] = [
    "written",
    "entry",
    "mid",
    "exit",
    "off",
    "all",
    "front",
    "rear",
    "left",
    "right",
    "total",
    "each",
    "full-hard",
    "full-soft",
    "out-lap",
    "in-lap",
    "box",
    "unsure",
    "ok",
    "metric",
    "imperial",
    "winter",
    "best",
    "new",
];

/// Words of the list.
static LISTED: LazyLock<FxHashSet<Box<str>>> = LazyLock::new(|| {
    let lines = LIST.lines().filter(|line| !line.starts_with('#'));
    lines.flat_map(words).map(String::into_boxed_str).collect()
});

/// Words of the language and of the list.
static LANGUAGE: LazyLock<FxHashSet<Box<str>>> = LazyLock::new(|| {
    let mut all = LISTED.clone();
    let mut put = |text: &str| all.extend(words(text).into_iter().map(String::into_boxed_str));
    Verb::ALL.iter().map(|verb| verb.word()).for_each(&mut put);
    CLAUSES.into_iter().chain(DECLARATIONS).chain(OTHERS).for_each(&mut put);
    DECLARATIONS.into_iter().chain(["job", "cost"]).flat_map(names_of).for_each(|name| put(name));
    Audience::ALL.into_iter().map(Audience::word).for_each(&mut put);
    CostKind::ALL.into_iter().map(|(word, _)| word).for_each(&mut put);
    for (_, quantity) in super::built_in().vocabulary.iter() {
        put(&quantity.name);
    }
    let units = crate::units::table();
    for (id, _) in units.all() {
        units.spellings_of(id).for_each(&mut put);
    }
    all
});

/// The ordinary words of a book.
#[derive(Debug, Clone)]
pub struct Ordinary {
    /// Names of things that everybody uses.
    own: FxHashSet<Box<str>>,
}

impl Ordinary {
    /// Those of that book.
    #[must_use]
    pub fn of(book: &Book) -> Self {
        let kinds = book.kinds.iter().map(|kind| &kind.named.name);
        let quantities = book.vocabulary.iter().map(|(_, quantity)| &quantity.name);
        let names = kinds.chain(&book.names.positions).chain(quantities);
        let own = names.filter_map(|name| match words(name).as_slice() {
            [one] => Some(one.as_str().into()),
            _ => None,
        });
        Self { own: own.collect() }
    }

    /// Whether a word is ordinary; it must be as [`words`] gives it.
    #[must_use]
    pub fn has(&self, word: &str) -> bool {
        LANGUAGE.contains(word) || self.own.contains(word)
    }

    /// Whether there are only ordinary words in a name.
    #[must_use]
    pub fn is_all_of(&self, name: &str) -> bool {
        words(name).iter().all(|word| self.has(word))
    }
}

/// Whether a word is on the list of English, so that as part of a title it surprises nobody.
#[must_use]
pub fn is_listed(word: &str) -> bool {
    LISTED.contains(word)
}

/// The words of a title that may tell who it is: those with a capital, or all where none has one; ordinary ones among them.
#[must_use]
pub fn telling(title: &str) -> Vec<String> {
    let all: Vec<(bool, String)> = places(title)
        .map(|(at, word)| (title.get(at).is_some_and(|typed| typed.starts_with(char::is_uppercase)), word))
        .filter(|(_, word)| word.chars().any(char::is_alphabetic))
        .filter(|(_, word)| word.len() >= 2)
        .collect();
    let some = all.iter().any(|(capital, _)| *capital);
    all.into_iter().filter(|(capital, _)| *capital || !some).map(|(_, word)| word).collect()
}
