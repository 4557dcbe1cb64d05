//! The small list of pages that a report keeps in its output folder, as text.
//!
//! A line a page, added before the page is written, so that a run that is killed leaves no page the list does not know. Names
//! of cars, readers and shops stand in it as fingerprints only. Must not know the disk.

use super::whose::{Whose, print_of};
use std::collections::BTreeMap;

/// Its file name: hidden, and no page's.
pub(super) const NAME: &str = ".stringline-pages";

const HEADING: &str = "stringline pages 1";
const WORDS: &str =
    "# The pages that `stringline report` wrote here, so that it can remove those the book no longer has.";

/// What a page is about, as far as a narrowed run asks.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Scope {
    /// The car's fingerprint.
    pub car: Option<String>,
    /// The year.
    pub year: Option<i16>,
}

impl Scope {
    /// Whether a run narrowed to this may touch a page about that.
    pub fn owns(&self, page: &Self) -> bool {
        (self.car.is_none() || self.car == page.car) && (self.year.is_none() || self.year == page.year)
    }
}

/// A page of the list.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Listed {
    /// Fingerprints of what was, or was going to be, written.
    pub prints: Vec<String>,
    /// What it is about.
    pub about: Scope,
}

/// The list.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct List {
    /// Of whose pages.
    pub whose: Whose,
    /// By file name.
    pub pages: BTreeMap<String, Listed>,
}

impl List {
    /// Reads a list. A last line without an end was being added by a run that was killed: its page was not written.
    ///
    /// # Errors
    /// The number of the first line that is none of ours.
    pub fn read(text: &str) -> Result<Self, usize> {
        let whole = text.rfind('\n').and_then(|end| text.get(..end)).ok_or(1_usize)?;
        let mut lines = whole.split('\n').enumerate();
        if lines.next().map(|(_, line)| line) != Some(HEADING) {
            return Err(1);
        }
        let mut list = Self::default();
        for (index, line) in lines {
            list.take(line).ok_or(index + 1)?;
        }
        if list.whose.reader.is_empty() { Err(1) } else { Ok(list) }
    }

    fn take(&mut self, line: &str) -> Option<()> {
        if line == WORDS {
            return Some(());
        }
        let (word, rest) = line.split_once(' ')?;
        match word {
            "page" => {
                let mut words = rest.splitn(4, ' ');
                let (print, car, year, name) = (words.next()?, words.next()?, words.next()?, words.next()?);
                let (print, name) = (print_of(print)?, name_of(name)?);
                let car = if car == "-" { None } else { Some(print_of(car)?) };
                let year = if year == "-" { None } else { Some(year.parse().ok()?) };
                self.add(name, print, Scope { car, year });
            }
            word => self.whose.take(word, rest)?,
        }
        Some(())
    }

    /// Adds what a page is going to be.
    pub fn add(&mut self, name: String, print: String, about: Scope) {
        let listed = self.pages.entry(name).or_default();
        listed.about = about;
        if !listed.prints.contains(&print) {
            listed.prints.push(print);
        }
    }

    /// The list as text.
    pub fn text(&self) -> String {
        let mut out = format!("{HEADING}\n{WORDS}\n{}", self.whose.text());
        for (name, listed) in &self.pages {
            for print in &listed.prints {
                out += &line(name, print, &listed.about);
            }
        }
        out
    }
}

/// The line of a page.
pub(super) fn line(name: &str, print: &str, about: &Scope) -> String {
    let car = about.car.as_deref().unwrap_or("-");
    let year = about.year.map_or_else(|| "-".to_owned(), |year| year.to_string());
    format!("page {print} {car} {year} {name}\n")
}

/// A page's file name, which never leads out of the folder: what no page of ours is called is nothing to follow.
fn name_of(word: &str) -> Option<String> {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-._".contains(&byte);
    let ours = word.as_bytes().ends_with(b".html") && !word.starts_with('.') && word.bytes().all(plain);
    ours.then(|| word.to_owned())
}
