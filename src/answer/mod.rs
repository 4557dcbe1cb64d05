//! Answers: what a command says, as plain data, made once. The terminal words one, JSON is one, a page shows one.
//!
//! Must not know HTML, columns or colours, nor any page (what stands on a page is a section, `report::section`). Keys are a promise (`grammar/json.md`): add, never rename.

pub mod altered;
pub mod blank;
pub mod costs;
pub mod dated;
pub mod dates;
pub mod diff;
pub mod due;
pub mod job;
pub mod layout;
pub mod lives;
pub mod part;
pub mod rules;
pub mod state;
pub mod trials;
pub mod value;
pub mod worth;

use crate::Compiled;
use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::model::{CarId, PartId};
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::{History, Moment, impact};
use crate::source::Span;
use crate::vocabulary::QuantityId;
use crate::words;
use jiff::civil::Date;
use serde::Serialize;

/// An answer as JSON.
pub use crate::visible::json;

/// A line of the book.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LedgerLine {
    /// Path below the book's folder, with `/` between parts.
    pub path: String,
    /// Its number, from 1.
    pub line: u32,
}

impl std::fmt::Display for LedgerLine {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&words::place(&self.path, self.line))
    }
}

/// The car an answer is about.
#[derive(Debug, Clone, Serialize)]
pub struct NamedCar {
    /// Its name as declared.
    pub name: String,
    /// The words after the name.
    pub title: String,
    /// Where it is declared.
    pub line: LedgerLine,
}

/// A moment as asked for.
#[derive(Debug, Clone, Serialize)]
pub struct When {
    /// As typed; null for the end of the book.
    pub typed: Option<String>,
    /// In words: `quern-1, during s4`.
    pub words: String,
    /// The event it belongs to.
    pub event: Option<String>,
}

/// The line a span stands on.
#[must_use]
pub fn line(compiled: &Compiled, span: Span) -> LedgerLine {
    LedgerLine { path: compiled.files.path(span.file).to_owned(), line: compiled.files.line(span) }
}

/// What nobody has done since an impact that a part waits for: dated items wait for a pass, the others for a look.
#[must_use]
pub fn not_done(book: &Book, history: &History, part: PartId, rank: Rank) -> &'static str {
    let unseen = impact::unseen(book, history, part, rank).is_some();
    if unseen { "not looked at" } else { "looked at, not passed as good" }
}

/// The line an entry stands on; `None` for no entry.
#[must_use]
pub fn entry_line(compiled: &Compiled, entry: impl Into<Option<EntryId>>) -> Option<LedgerLine> {
    compiled.book.entries.get(entry.into()?).map(|entry| line(compiled, entry.span()))
}

/// The date an entry stands under, as typed.
#[must_use]
pub fn entry_date(compiled: &Compiled, entry: impl Into<Option<EntryId>>) -> Option<String> {
    compiled.history.order.date(&compiled.book, entry.into()?).map(|date| date.to_string())
}

/// The car as plain data; ids come only from the book.
#[must_use]
pub fn car(compiled: &Compiled, car: CarId) -> NamedCar {
    let named = &compiled.book.cars[car].named;
    NamedCar {
        name: named.typed.to_string(),
        title: named.title.clone(),
        line: line(compiled, named.declared),
    }
}

/// A moment as plain data.
#[must_use]
pub fn when(compiled: &Compiled, moment: &Moment, typed: Option<&str>) -> When {
    When {
        typed: typed.map(str::to_owned),
        words: words::moment::moment(&compiled.book, &compiled.files, moment),
        event: moment
            .event
            .and_then(|event| compiled.book.events.get(event))
            .map(|event| event.named.typed.to_string()),
    }
}

/// The moment as which a car is told: of one that is gone, and was by then, that of its sale, for what was on it is what was on it when it
/// went; and the day of that sale.
#[must_use]
pub fn of_car(compiled: &Compiled, car: CarId, moment: &Moment) -> (Moment, Option<Date>) {
    let sold = compiled.history.parts.sold.get(&car).filter(|(rank, _)| *rank < moment.rank);
    let Some((rank, entry)) = sold else { return (moment.clone(), None) };
    (Moment { rank: *rank, ..moment.clone() }, compiled.context().date(*entry))
}

/// The place as typed in a ledger; `None` for the car as a whole.
#[must_use]
pub fn place(compiled: &Compiled, place: Place) -> Option<String> {
    Some(compiled.book.place_word(place)).filter(|word| !word.is_empty())
}

/// A quantity's area.
#[must_use]
pub fn area(compiled: &Compiled, quantity: QuantityId) -> String {
    let vocabulary = &compiled.book.vocabulary;
    let area = vocabulary.get(quantity).area;
    vocabulary.areas.get(area as usize).map_or_else(String::new, ToString::to_string)
}
