//! Which words of a driver are one: by their endings ("pushes" is "push"), by what the trade takes for the same, and by what the shop says
//! (`word washes means push`).
//!
//! English, as the trade speaks it. Must not know who said a word, nor what is counted.

use crate::source::Span;
use rustc_hash::FxHashMap;
use std::collections::BTreeSet;

/// Words that mean the same (common practice), by their stems; the first stands for all.
const SAME: [&[&str]; 4] = [
    &["push", "understeer", "plough", "plow"],
    &["loose", "oversteer", "slide", "tail-happy"],
    &["nervous", "twitchy", "edgy", "darty"],
    &["wheelspin", "spin"],
];

/// What a word is taken for.
#[derive(Debug, Clone)]
struct Meaning {
    /// The stem of the other, as the line says.
    means: String,
    /// The last of the words that it leads to.
    last: String,
    /// The line that says so.
    declared: Span,
}

/// What the shop's words mean, by their stems.
#[derive(Debug, Clone, Default)]
pub struct Meanings(FxHashMap<String, Meaning>);

/// What is wrong with a line that says what a word means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum MeaningTrouble {
    /// It means something else already, as that line says.
    TwoThings(Span),
    /// It comes back to itself, by these words.
    Circle(Vec<String>),
}

impl Meanings {
    /// Notes that a word means another.
    ///
    /// # Errors
    /// It means another already, or comes back to itself.
    pub fn add(&mut self, word: &str, means: &str, declared: Span) -> Result<(), MeaningTrouble> {
        let (word, means) = (stem(word), stem(means));
        if let Some(known) = self.0.get(&word) {
            return if known.means == means {
                Ok(())
            } else {
                Err(MeaningTrouble::TwoThings(known.declared))
            };
        }
        let last = self.settle(&means);
        if last == word {
            return Err(MeaningTrouble::Circle(self.way(word, means)));
        }
        self.0.insert(word, Meaning { means, last, declared });
        Ok(())
    }

    /// The first words of a circle that these two would close, and the word it comes back to.
    fn way(&self, word: String, means: String) -> Vec<String> {
        let mut way = vec![word.clone()];
        let mut here = means;
        while here != word && way.len() < TOLD {
            let next = self.0.get(&here).map_or_else(|| word.clone(), |one| one.means.clone());
            way.push(std::mem::replace(&mut here, next));
        }
        way.push(word);
        way
    }

    /// Makes every word lead to its last one at once, so that a long way is gone only once.
    pub fn settle_all(&mut self) {
        let words: Vec<String> = self.0.keys().cloned().collect();
        for word in words {
            self.settle(&word);
        }
    }

    fn settle(&mut self, word: &str) -> String {
        let mut way: Vec<String> = Vec::new();
        let mut here = word.to_owned();
        while let Some(one) = self.0.get(&here) {
            way.push(std::mem::replace(&mut here, one.last.clone()));
        }
        for word in way {
            if let Some(one) = self.0.get_mut(&word) {
                one.last.clone_from(&here);
            }
        }
        here
    }

    /// The last word that a stem leads to.
    fn last(&self, stem: String) -> String {
        let mut here = stem;
        while let Some(one) = self.0.get(&here) {
            here.clone_from(&one.last);
        }
        here
    }

    /// The one stem that stands for a word and all that mean the same: what the shop says of it, else what the trade does, and so on from
    /// there. Where the shop leads back into a group of the trade's, the first of the letters stands for all.
    #[must_use]
    pub fn one(&self, word: &str) -> String {
        let mut here = self.last(stem(word));
        let mut way: Vec<String> = Vec::new();
        loop {
            if let Some(from) = way.iter().position(|known| *known == here) {
                let round: BTreeSet<&String> = way.iter().skip(from).collect();
                return round.first().map_or(here.clone(), |first| (*first).clone());
            }
            let Some(next) = of_trade(&here) else { return here };
            way.push(std::mem::replace(&mut here, self.last(next)));
        }
    }
}

/// So many words of a circle are told.
const TOLD: usize = 6;

/// The stem that stands for a word's group, where it is another.
fn of_trade(word: &str) -> Option<String> {
    let group = SAME.iter().find(|group| group.iter().any(|one| ending_off(one) == word))?;
    group.first().map(|first| ending_off(first)).filter(|first| first != word)
}

/// A word without its ending and its marks: "pushes", "pushing" and "pushed" are "push".
fn stem(word: &str) -> String {
    let plain: String = word.to_lowercase().chars().filter(|c| c.is_alphanumeric() || *c == '-').collect();
    ending_off(&plain)
}

fn ending_off(word: &str) -> String {
    const LEAST: usize = 3;
    let long_enough = |rest: &&str| rest.chars().count() >= LEAST;
    let cut =
        ["ing", "ed", "es", "s"].iter().find_map(|ending| word.strip_suffix(ending).filter(long_enough));
    let mut stem = cut.unwrap_or(word);
    stem = stem.strip_suffix('e').filter(long_enough).unwrap_or(stem);
    // "spinning" is "spin".
    let mut back = stem.chars().rev();
    if cut.is_some()
        && let (Some(last), Some(before)) = (back.next(), back.next())
        && last == before
        && !"aeiouls".contains(last)
    {
        stem = stem.get(..stem.len() - last.len_utf8()).unwrap_or(stem);
    }
    stem.to_owned()
}
