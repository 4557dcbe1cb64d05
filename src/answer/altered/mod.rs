//! What differs between two states of one book: every number that is told of it, then and now, and the lines that did it.
//!
//! A line typed in August can change what April's figures say. Both books are asked everything they can be asked, and the answers are
//! laid side by side; nothing is worked out here. Must not know where the two come from.

mod fact;
mod figures;
mod settings;
mod spoken;
mod totals;

pub use fact::AlteredSort;

use super::LedgerLine;
use crate::Compiled;
use crate::book::model::CarId;
use crate::history::Moment;
use crate::history::moment;
use crate::source::Span;
use fact::Fact;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// A fact that is told otherwise now.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Alteration {
    /// Of which sort.
    pub sort: AlteredSort,
    /// The car, client, job or kind; empty for the whole book.
    pub of: String,
    /// What: "cross-weight", "camber LF".
    pub what: String,
    /// The event it is told at the end of; null for the end of the book, and for what is of no moment.
    pub at: Option<String>,
    /// As it was told then; null where it was not.
    pub then: Option<String>,
    /// As it is told now; null where it is not.
    pub now: Option<String>,
    /// At how many later events it changed besides.
    pub later: usize,
    /// Lines it rested on then and that are no more.
    pub lines_then: Vec<LedgerLine>,
    /// Lines it rests on now and that were not there.
    pub lines_now: Vec<LedgerLine>,
}

/// All that differs.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Alterations {
    /// Lines that are no more.
    pub gone: usize,
    /// Lines that are new.
    pub new: usize,
    /// The facts, by sort, subject and name.
    pub facts: Vec<Alteration>,
}

/// Where a fact belongs.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Key {
    sort: AlteredSort,
    of: String,
    what: String,
    /// First day and name of the event; `None` for the end, which comes last.
    at: At,
}

#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
enum At {
    Event(jiff::civil::Date, String),
    End,
}

type Facts = BTreeMap<Key, Fact>;

/// Lays two states of a book side by side.
#[must_use]
pub fn altered(then: &Compiled, now: &Compiled) -> Alterations {
    let (before, after) = (told(then), told(now));
    let (texts_then, texts_now) = (texts(then), texts(now));
    let (old, new) = (lines(then), lines(now));
    let keys: BTreeSet<&Key> = before.keys().chain(after.keys()).collect();
    let mut facts: Vec<Alteration> = Vec::new();
    let mut open: Option<(&Key, usize)> = None;
    for key in keys {
        let (was, is) = (before.get(key), after.get(key));
        // The key of a message is its words.
        let message = key.sort == AlteredSort::Message;
        if was.is_some() && is.is_some() && message || was.map(|one| &one.shown) == is.map(|one| &one.shown) {
            continue;
        }
        // One correction often moves a figure at every event since: the first is told, the others are counted.
        let same = |other: &Key| (other.sort, &other.of, &other.what) == (key.sort, &key.of, &key.what);
        if let Some((first, at)) = open
            && same(first)
            && let Some(told) = facts.get_mut(at)
        {
            told.later += 1;
            continue;
        }
        open = Some((key, facts.len()));
        let at = match &key.at {
            At::Event(_, name) => Some(name.clone()),
            At::End => None,
        };
        facts.push(Alteration {
            sort: key.sort,
            of: key.of.clone(),
            what: is.or(was).filter(|_| message).map_or_else(|| key.what.clone(), |one| one.shown.clone()),
            at,
            then: was.map(|one| one.shown.clone()),
            now: is.map(|one| one.shown.clone()),
            later: 0,
            lines_then: was.map(|one| unlike(&texts_then, one, &new)).unwrap_or_default(),
            lines_now: is.map(|one| unlike(&texts_now, one, &old)).unwrap_or_default(),
        });
    }
    let [gone, new] = [(&old, &new), (&new, &old)].map(|(one, other)| {
        one.iter().map(|(text, count)| count.saturating_sub(other.get(text).copied().unwrap_or(0))).sum()
    });
    Alterations { gone, new, facts }
}

/// Everything that a book tells.
fn told(compiled: &Compiled) -> Facts {
    let mut facts = Facts::new();
    for (car, declared) in compiled.book.cars.iter_enumerated().filter(|(_, car)| !car.withheld) {
        let name = &declared.named.typed;
        for (at, moment) in moments(compiled, car) {
            let mut tell = |sort: AlteredSort, what: String, fact: Fact| {
                facts.insert(Key { sort, of: name.to_string(), what, at: at.clone() }, fact);
            };
            figures::tell(compiled, car, &moment, &mut tell);
            settings::tell(compiled, car, &moment, &mut tell);
            spoken::verdicts(compiled, car, &moment, &mut tell);
        }
    }
    let mut tell = |sort: AlteredSort, of: String, what: String, fact: Fact| {
        facts.insert(Key { sort, of, what, at: At::End }, fact);
    };
    totals::tell(compiled, &mut tell);
    spoken::lives(compiled, &mut tell);
    spoken::messages(compiled, &mut tell);
    facts
}

/// The end of each event that a car ran at, and the end of the book.
fn moments(compiled: &Compiled, car: CarId) -> Vec<(At, Moment)> {
    let (book, history) = (&compiled.book, &compiled.history);
    let ran = book.events.iter_enumerated().filter(|(id, _)| history.sessions.at(car, *id).last().is_some());
    let ends = ran.filter_map(|(_, event)| {
        let name = event.named.typed.to_string();
        let moment = moment::parse(book, &compiled.files, history, car, &format!("{name}/end")).ok()?;
        Some((At::Event(event.first, name), moment))
    });
    ends.chain([(At::End, moment::end(history))]).collect()
}

/// How often each line stands in a book, its blanks at both ends aside.
fn lines(compiled: &Compiled) -> BTreeMap<&str, usize> {
    let mut lines = BTreeMap::new();
    for (_, file) in compiled.files.iter() {
        for line in file.text.lines().map(str::trim).filter(|line| !line.is_empty()) {
            *lines.entry(line).or_insert(0) += 1;
        }
    }
    lines
}

/// What each line says, by where it is told to stand: a reader's count leaves lines out that are not for him.
fn texts(compiled: &Compiled) -> BTreeMap<LedgerLine, &str> {
    let mut texts = BTreeMap::new();
    for (id, file) in compiled.files.iter() {
        let mut start = 0;
        for raw in file.text.split_inclusive('\n') {
            let text = raw.trim();
            if !text.is_empty() {
                texts.entry(super::line(compiled, Span::new(id, start, start))).or_insert(text);
            }
            start += raw.len() as u32;
        }
    }
    texts
}

/// The lines of a fact that stand nowhere in the other book.
fn unlike(texts: &BTreeMap<LedgerLine, &str>, fact: &Fact, other: &BTreeMap<&str, usize>) -> Vec<LedgerLine> {
    let unlike = |line: &&LedgerLine| texts.get(*line).is_some_and(|text| !other.contains_key(text));
    let lines: BTreeSet<&LedgerLine> = fact.lines.iter().filter(unlike).collect();
    lines.into_iter().cloned().collect()
}
