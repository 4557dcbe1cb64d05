//! One life as a row: whose, where, how long, how it ended.

use crate::Compiled;
use crate::answer::{LedgerLine, entry_line, line};
use crate::book::entry::EntryId;
use crate::book::model::{Clock, PartId};
use crate::history::order::Rank;
use crate::history::parts::Where;
use crate::history::unread::is_placed;
use crate::lives::study::failure;
use crate::lives::{End, Life};
use crate::words::scale::Scale;
use serde::Serialize;

/// One life.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LifeRow {
    /// The part.
    pub part: String,
    /// 1 from new, 2 after the first rebuild.
    pub number: u32,
    /// Its spec; empty for none.
    pub spec: String,
    /// Its serial; may be empty.
    pub serial: String,
    /// Where it served, in order: `bittern LR`, `plover prop`.
    pub served: Vec<String>,
    /// The day it first went on.
    pub from: Option<String>,
    /// The day it ended.
    pub to: Option<String>,
    /// Length on the clock, in its unit; null where it is not known.
    pub length: Option<f64>,
    /// The same in digits: `292`, `at least 55`.
    pub length_text: String,
    /// What of it was run before the book; empty for nothing.
    pub before_text: String,
    /// Length on every clock that is known: `292 min`, `5 days`.
    pub uses: Vec<String>,
    /// How it ended.
    pub end: &'static str,
    /// The same in words: `failed`, `pulled good`, `running`, `sold with the car`.
    pub end_words: String,
    /// Mode, mechanism, cause, how it was found, as typed; empty where not said.
    pub mode: String,
    /// See `mode`.
    pub mechanism: String,
    /// See `mode`.
    pub cause: String,
    /// See `mode`.
    pub found_by: String,
    /// The line that ended it, else the part's declaration.
    pub line: LedgerLine,
}

/// A kind's lives on a clock; `scales` are how each clock is told.
pub(super) fn row(compiled: &Compiled, life: &Life, scale: Scale, scales: &[Scale]) -> LifeRow {
    let book = &compiled.book;
    let part = &book.parts[life.part];
    let spec = life.spec.and_then(|spec| book.specs.get(spec));
    let lived = life.on(book, scale.clock);
    let told = failure(book, life);
    let word = |span: Option<crate::source::Span>| {
        span.map_or_else(String::new, |span| compiled.files.text(span).trim().trim_matches('"').to_owned())
    };
    let (end, end_words, entry) = end(compiled, life);
    let uses = scales.iter().filter_map(|own| {
        let lived = life.on(book, own.clock);
        let shown = own.clock == scale.clock
            || matches!(own.clock, Clock::Time | Clock::Days)
            || lived.before.is_some_and(|b| b > 0.0);
        (shown && lived.value > 0.0).then(|| own.told(lived.value, lived.at_least))
    });
    LifeRow {
        part: part.named.typed.to_string(),
        number: life.number,
        spec: spec.map_or_else(String::new, |spec| spec.named.typed.to_string()),
        serial: part.serial.clone(),
        served: served(compiled, life),
        from: life.first.map(|date| date.to_string()),
        to: life.ended.map(|date| date.to_string()),
        length: (!lived.at_least).then(|| lived.value / scale.factor()),
        length_text: if life.run.is_empty() && lived.at_least {
            String::new()
        } else {
            format!("{}{}", if lived.at_least { "at least " } else { "" }, scale.digits(lived.value))
        },
        before_text: lived
            .before
            .filter(|before| *before > 0.0)
            .map_or_else(String::new, |before| scale.words(before)),
        uses: uses.collect(),
        end,
        end_words,
        mode: word(told.and_then(|told| told.mode)),
        mechanism: word(told.and_then(|told| told.mechanism)),
        cause: word(told.and_then(|told| told.cause)),
        found_by: word(told.and_then(|told| told.found_by)),
        line: entry
            .and_then(|entry| entry_line(compiled, entry))
            .unwrap_or_else(|| line(compiled, part.named.declared)),
    }
}

/// What is said of a part that nobody knows the place of.
const LOST: &str = "as far as is known: a line about it has a mistake";

/// How a life ended: a key, words, and the line.
fn end(compiled: &Compiled, life: &Life) -> (&'static str, String, Option<EntryId>) {
    let stays = &compiled.history.parts.get(life.part).stays;
    let last = || stays.last().map(|stay| stay.entry);
    // After a line with a mistake nobody knows where it is.
    let placed = is_placed(&compiled.history, life.part, Rank::END);
    match life.end {
        End::Running if !placed => ("running", format!("running, {LOST}"), last()),
        End::Running => ("running", "running".to_owned(), last()),
        End::RunningSold => ("sold", "sold while running".to_owned(), last()),
        End::Good(_) if !placed && life.first.is_none() => {
            ("unknown", "perhaps fitted: a line about it has a mistake".to_owned(), last())
        }
        End::Good(there) => {
            let words = match there {
                Where::Shelf | Where::New => "pulled good, on the shelf",
                Where::Quarantine => "pulled, in quarantine",
                Where::Scrapped => "pulled good, scrapped",
                Where::Sold => "pulled good, sold",
                Where::Lent => "pulled good, lent",
                Where::Returned => "good, gone back to its owner",
                Where::Inside(_) => "good, in an assembly off the car",
                Where::Failed | Where::Car(..) => "pulled",
            };
            let words = words.to_owned();
            ("good", if placed { words } else { format!("{words}, {LOST}") }, last())
        }
        End::Rebuilt(entry) => ("rebuilt", "rebuilt while good".to_owned(), Some(entry)),
        End::Failed(entry) => ("failed", "failed".to_owned(), Some(entry)),
        End::Unused => ("unused", "never fitted".to_owned(), last()),
        End::Unmended(entry) => ("unmended", "ran on after it failed".to_owned(), Some(entry)),
    }
}

/// Where it served within its life, each place once in a row.
fn served(compiled: &Compiled, life: &Life) -> Vec<String> {
    let history = &compiled.history;
    let mut list: Vec<String> = Vec::new();
    for stay in &history.parts.get(life.part).stays {
        let Some(car) = stay.car.filter(|_| stay.until > life.from && stay.from < life.until) else {
            continue;
        };
        let car = &compiled.book.cars[car].named.typed;
        let words = match stay.at {
            Where::Car(_, place) => {
                format!("{car} {}", compiled.book.place_word(place)).trim_end().to_owned()
            }
            Where::Inside(holder) => format!("{car} {}", nest(compiled, holder, stay.from)),
            _ => car.to_string(),
        };
        if list.last() != Some(&words) {
            list.push(words);
        }
    }
    list
}

/// "LF in hub-3" of an assembly at a rank.
fn nest(compiled: &Compiled, holder: PartId, rank: Rank) -> String {
    let name = &compiled.book.parts[holder].named.typed;
    let mut outer = holder;
    // Assemblies never hold themselves; the count guards against a book that says so.
    for _ in 0..64 {
        match compiled.history.parts.get(outer).at(rank.next()).map(|stay| stay.at) {
            Some(Where::Inside(next)) => outer = next,
            Some(Where::Car(_, place)) => {
                return format!("{} in {name}", compiled.book.place_word(place)).trim_start().to_owned();
            }
            _ => break,
        }
    }
    format!("in {name}")
}
