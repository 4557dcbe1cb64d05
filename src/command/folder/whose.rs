//! Whose pages a folder holds: which reader's, and of which book, told by fingerprints of what that reader may read anyway.
//!
//! A book has no name of its own, its folder may be moved, and it grows; but its dated heads stay. Two folders of ledgers are
//! one book if they share a head. Nothing of the shop's disk is in it, so the same book makes the same bytes anywhere.

use crate::Compiled;
use crate::report::Options;
use crate::source::{FINGERPRINT, fingerprint};
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// So many heads and cars are kept of a book: those of the smallest fingerprints, so any of them.
const MOST: usize = 32;

/// Whose pages.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(in crate::command) struct Whose {
    /// The reader.
    pub reader: String,
    /// The shop's title, if it has one.
    pub shop: Option<String>,
    /// Heads: date and car.
    pub heads: BTreeSet<String>,
    /// Cars.
    pub cars: BTreeSet<String>,
}

/// Why a folder is not ours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::command) enum Strange {
    /// Its pages are for somebody else.
    Reader,
    /// Its pages are of another book.
    Book,
}

/// A car as a list names it.
pub(super) fn car(name: &str) -> String {
    fingerprint(["car".as_bytes(), name.as_bytes()])
}

/// A fingerprint, and nothing else.
pub(in crate::command) fn print_of(word: &str) -> Option<String> {
    let hex = |byte: u8| byte.is_ascii_digit() || (b'a'..=b'f').contains(&byte);
    (word.len() == FINGERPRINT && word.bytes().all(hex)).then(|| word.to_owned())
}

impl Whose {
    /// As lines of a list.
    pub fn text(&self) -> String {
        let mut out = format!("reader {}\n", self.reader);
        if let Some(shop) = &self.shop {
            let _ = writeln!(out, "shop {shop}");
        }
        for (word, all) in [("car", &self.cars), ("head", &self.heads)] {
            for print in all {
                let _ = writeln!(out, "{word} {print}");
            }
        }
        out
    }

    /// Takes one of those lines; `None` for one that is none of them.
    pub fn take(&mut self, word: &str, rest: &str) -> Option<()> {
        match word {
            "reader" => self.reader = print_of(rest)?,
            "shop" => self.shop = Some(print_of(rest)?),
            "head" => drop(self.heads.insert(print_of(rest)?)),
            "car" => drop(self.cars.insert(print_of(rest)?)),
            _ => return None,
        }
        Some(())
    }

    /// All of a book, as its reader has it.
    pub fn of(compiled: &Compiled, options: Options) -> Self {
        let book = &compiled.book;
        let client = options.client.and_then(|client| book.clients.get(client));
        let reader = match client {
            Some(client) => fingerprint(["client".as_bytes(), client.named.name.as_bytes()]),
            None => fingerprint(["shop".as_bytes()]),
        };
        let title = book.shop.title.as_str();
        let shop = (!title.is_empty()).then(|| fingerprint(["title".as_bytes(), title.as_bytes()]));
        let within = |index: usize| options.car.is_none_or(|only| only.index() == index);
        let cars = book.cars.iter_enumerated().filter(|(index, one)| !one.withheld && within(index.index()));
        let cars = cars.map(|(_, one)| car(&one.named.name)).collect();
        let mut heads = BTreeSet::new();
        for entry in book.entries.iter().filter(|entry| !entry.withheld) {
            let Some(head) = book.heads.get(entry.head) else { continue };
            let Some((id, one)) = head.car.and_then(|id| Some((id, book.cars.get(id)?))) else {
                continue;
            };
            if !one.withheld && within(id.index()) {
                heads.insert((head.date, &*one.named.name));
            }
        }
        let head = |(date, name): (jiff::civil::Date, &str)| {
            fingerprint(["head".as_bytes(), date.to_string().as_bytes(), name.as_bytes()])
        };
        Self { reader, shop, heads: heads.into_iter().map(head).collect(), cars }
    }

    /// Whether pages of what this list remembers may be replaced by those of `all`, the whole of a book.
    ///
    /// # Errors
    /// Whose they are otherwise.
    pub fn same(&self, all: &Self) -> Result<(), Strange> {
        if self.reader != all.reader {
            return Err(Strange::Reader);
        }
        let shops = self.shop.is_none() || all.shop.is_none() || self.shop == all.shop;
        // A slip may hide every head or car of a small book; that makes it no other book.
        let share =
            |a: &BTreeSet<String>, b: &BTreeSet<String>| a.is_empty() || b.is_empty() || !a.is_disjoint(b);
        let kin = if self.heads.is_empty() || all.heads.is_empty() {
            share(&self.cars, &all.cars)
        } else {
            share(&self.heads, &all.heads)
        };
        if shops && kin { Ok(()) } else { Err(Strange::Book) }
    }

    /// What to remember: a few heads and cars of those within the run's scope, and of those remembered before that the
    /// book still has.
    pub fn remember(&self, within: &Self, all: &Self) -> Self {
        let few = |before: &BTreeSet<String>, within: &BTreeSet<String>, all: &BTreeSet<String>| {
            let still = before.intersection(all).chain(within).cloned().collect::<BTreeSet<_>>();
            still.into_iter().take(MOST).collect()
        };
        Self {
            reader: all.reader.clone(),
            shop: all.shop.clone().or_else(|| self.shop.clone()),
            heads: few(&self.heads, &within.heads, &all.heads),
            cars: few(&self.cars, &within.cars, &all.cars),
        }
    }
}
