//! Pages that have left the house: each as its line says, and what the same page tells today.
//!
//! The page is made again from the book at the moment of its line ([`crate::audience::standing`]), for the same reader, and its fingerprint laid
//! beside the one that was typed. Must not know how that is said.

use super::Report;
use super::alone::{Alone, NoPage};
use super::desk::Options;
use super::key::Key;
use super::page::press::Own;
use super::page::{self, stream};
use super::teller::Teller;
use crate::Compiled;
use crate::audience::{self, Reader, Standing};
use crate::book::entry::{EntryId, Verb};
use crate::book::handed::{HandedFacts, HandedPage, PagePrint};
use crate::book::model::CarId;
use jiff::civil::Date;

/// A page that was handed out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HandedOut {
    /// Its line.
    pub line: EntryId,
    /// The day of its head.
    pub date: Date,
    /// The car it is about; none of a letter.
    pub car: Option<CarId>,
    /// What its line says; none where that has a mistake.
    pub facts: Option<HandedFacts>,
    /// How it reads now.
    pub reads: Reads,
}

/// How a page that was handed out reads now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reads {
    /// As it did.
    Alike,
    /// Otherwise: the fingerprint that it has now.
    Otherwise(PagePrint),
    /// It cannot be made any more.
    NotMade(Unmade),
}

/// Why a page cannot be made any more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unmade {
    /// Its line has a mistake.
    Broken,
    /// The book has no such page at that moment.
    None(NoPage),
    /// The car was never that client's by then.
    NotHis,
}

/// Every page that the whole book says was handed out, in the order of the book's days; those that `wanted` lets through.
#[must_use]
pub fn handed_out(compiled: &Compiled, wanted: impl Fn(&HandedFacts) -> bool) -> Vec<HandedOut> {
    let book = &compiled.book;
    let mut lines: Vec<(Date, EntryId)> = book
        .entries
        .iter_enumerated()
        .filter(|(_, entry)| entry.verb == Verb::Handed)
        .filter_map(|(line, entry)| Some((book.head(entry)?.date, line)))
        .collect();
    lines.sort_unstable();
    let one = |(date, line): (Date, EntryId)| {
        let entry = book.entries.get(line)?;
        let facts =
            book.extra(entry).and_then(|extra| extra.handed.as_deref()).filter(|_| !entry.broken).copied();
        if let Some(facts) = &facts
            && !wanted(facts)
        {
            return None;
        }
        let car = book.head(entry).and_then(|head| head.car);
        let car = car.filter(|_| facts.is_none_or(|facts| facts.page.is_of_car()));
        let reads = facts.map_or(Reads::NotMade(Unmade::Broken), |facts| reads(compiled, line, car, &facts));
        Some(HandedOut { line, date, car, facts, reads })
    };
    lines.into_iter().filter_map(one).collect()
}

/// How the page of a line reads now.
fn reads(compiled: &Compiled, line: EntryId, car: Option<CarId>, facts: &HandedFacts) -> Reads {
    let mut now = None;
    // He may have made it from what stood above its line, from what was typed by the end of that day, or for that day.
    for standing in [Standing::OfLine, Standing::OfDay, Standing::AtDay] {
        let Some(then) = audience::standing(compiled, line, standing) else { continue };
        match prints(&then, car, facts) {
            Ok(prints) if prints.contains(&facts.print) => return Reads::Alike,
            Ok(prints) => now = now.or(prints.first().copied().map(Reads::Otherwise)),
            Err(why) => now = now.or(Some(Reads::NotMade(why))),
        }
    }
    now.unwrap_or(Reads::NotMade(Unmade::None(NoPage::NoLine)))
}

/// The fingerprints that the page may have: more than one only of a hand-over, with which more may go along.
fn prints(then: &Compiled, car: Option<CarId>, facts: &HandedFacts) -> Result<Vec<PagePrint>, Unmade> {
    if facts.page == HandedPage::HandOver {
        let car = car.ok_or(Unmade::None(NoPage::NoLine))?;
        let mut purchase = audience::purchase(then, car, Some(facts.client));
        let besides = [(false, false), (true, false), (false, true), (true, true)];
        return Ok(besides
            .into_iter()
            .map(|(bench, prices)| {
                (purchase.bench, purchase.prices) = (bench, prices);
                let cut = audience::cut(then, &Reader::Buyer(purchase));
                page::handover::print(&Teller::new(&cut), &purchase)
            })
            .collect());
    }
    let cut = audience::cut(then, &Reader::Client(facts.client));
    if car.is_some_and(|car| cut.book.cars.get(car).is_none_or(|car| car.withheld)) {
        return Err(Unmade::NotHis);
    }
    print(&cut, car, facts).map(|print| vec![print])
}

/// The fingerprint of a page of a reader's book.
fn print(cut: &Compiled, car: Option<CarId>, facts: &HandedFacts) -> Result<PagePrint, Unmade> {
    let none = Unmade::None(NoPage::NoLine);
    let own = Own::new();
    let of_all = |key: Key| {
        let options = Options { client: Some(facts.client), ..Options::default() };
        let report = Report::new(cut, options, &own);
        stream::print(&report.tell, report.options, &report.table, key).ok_or(none)
    };
    let alone = |which: Alone| {
        let report = Report::alone(cut, which, &own).map_err(Unmade::None)?;
        let key = report.table.rows().first().map(|row| row.listed.key).ok_or(none)?;
        stream::print(&report.tell, report.options, &report.table, key).ok_or(none)
    };
    let about = car.ok_or(none);
    match facts.page {
        HandedPage::Letter => of_all(Key::Client(facts.client)),
        HandedPage::Season => of_all(Key::Season(about?, facts.year.ok_or(none)?)),
        HandedPage::SetupSheet => alone(Alone::Setup(about?, facts.event)),
        HandedPage::Card => alone(Alone::Card(about?, facts.event)),
        HandedPage::AlignmentSheet => alone(Alone::Alignment(about?)),
        HandedPage::Now => alone(Alone::Now(about?)),
        HandedPage::Power => alone(Alone::Power(about?)),
        HandedPage::EngineCheck => alone(Alone::Engine(about?)),
        HandedPage::CrashSheet => alone(Alone::Crash(about?, facts.event)),
        HandedPage::HandOver => Err(none),
    }
}
