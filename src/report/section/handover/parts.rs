//! Parts that go with a car, by serial and place, and parts that do not.
//!
//! Must not know limits of life.

use crate::audience::Purchase;
use crate::book::entry::{Entry, EntryId, Verb};
use crate::book::model::PartId;
use crate::history::order::Rank;
use crate::history::parts::Where;
use crate::report::section::entry::{self, TimelineLine};
use crate::report::section::parts::{about, life_words};
use crate::report::section::problems::Problems;
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;

/// A part that goes along.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Present {
    /// The part.
    pub part: String,
    /// Its kind.
    pub kind: String,
    /// Where it is: "on the car, prop", "in hub-1", "loose".
    pub place: String,
    /// Its serial; may be empty.
    pub serial: String,
    /// Spec and tag.
    pub about: String,
    /// Its use since new.
    pub run: String,
    /// What it was bought for; only where prices were asked for.
    pub price: String,
    /// The line that put it there.
    pub src: String,
}

/// A part that was on the car, or fits it, and does not go along.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Away {
    /// The part.
    pub part: String,
    /// Its kind.
    pub kind: String,
    /// Its serial; may be empty.
    pub serial: String,
    /// "scrapped 13 November 2026", "stays with the shop".
    pub why: String,
}

/// The parts that go along: those on the car, those inside them, and those the sale names.
pub(super) fn going(tell: &Teller<'_>, purchase: &Purchase) -> Vec<PartId> {
    let cx = &tell.cx;
    let named = named(tell, purchase);
    let all = cx.book.parts.keys();
    all.filter(|part| {
        let stay = cx.history.parts.get(*part).at(purchase.until);
        stay.is_some_and(|stay| stay.car == Some(purchase.car)) || named.contains(part)
    })
    .collect()
}

fn named(tell: &Teller<'_>, purchase: &Purchase) -> Vec<PartId> {
    let sale = purchase.sale.and_then(|sale| tell.entry(sale));
    let facts = sale.and_then(|sale| tell.cx.book.extra(sale)).and_then(|extra| extra.parts.as_ref());
    facts.map_or_else(Vec::new, |facts| facts.more.clone())
}

/// Where a part is at a rank, in words.
pub(super) fn place(tell: &Teller<'_>, part: PartId, rank: Rank) -> String {
    match tell.cx.history.parts.get(part).at(rank).map(|stay| stay.at) {
        Some(Where::Car(_, place)) if place == crate::book::place::Place::ALL => "on the car".to_owned(),
        Some(Where::Car(_, place)) => tell.cx.place(place),
        Some(Where::Inside(assembly)) => format!("in {}", tell.cx.part(assembly)),
        _ => "loose".to_owned(),
    }
}

/// Makes the list of what goes along, by place.
pub(super) fn present(tell: &Teller<'_>, purchase: &Purchase) -> Vec<Present> {
    let cx = &tell.cx;
    let mut rows: Vec<Present> = going(tell, purchase)
        .into_iter()
        .map(|part| {
            let stay = cx.history.parts.get(part).at(purchase.until);
            Present {
                part: cx.part(part).to_owned(),
                kind: cx.kind_of(part).replace('-', " "),
                place: place(tell, part, purchase.until),
                serial: cx.book.parts.get(part).map_or_else(String::new, |part| part.serial.clone()),
                about: about(tell, part),
                run: life_words(tell, part, purchase.until),
                price: if purchase.prices { price(tell, part) } else { String::new() },
                src: stay.map_or_else(String::new, |stay| tell.src_of(stay.entry)),
            }
        })
        .collect();
    rows.sort_by(|a, b| (&a.kind, &a.place, &a.part).cmp(&(&b.kind, &b.place, &b.part)));
    rows
}

/// What a part was bought for: its `buy` line, its declaration, its spec.
fn price(tell: &Teller<'_>, part: PartId) -> String {
    let cx = &tell.cx;
    let lines = cx.history.parts.get(part).lines.iter().filter_map(|line| tell.entry(*line));
    let mut bought = lines.filter(|line| line.verb == Verb::Buy);
    let paid = bought.find_map(|line| cx.book.extra(line)?.parts.as_ref()?.money);
    let declared = cx.book.parts.get(part);
    let spec = declared.and_then(|part| part.spec).and_then(|spec| cx.book.specs.get(spec));
    let sum = paid.or(declared.and_then(|part| part.price)).or(spec.and_then(|spec| spec.price));
    sum.map_or_else(|| words::DASH.to_owned(), |sum| sum.to_string())
}

/// Makes the list of what does not go along: what was once on the car, and spares like it. The buyer's book knows no others.
pub(super) fn away(tell: &Teller<'_>, purchase: &Purchase) -> Vec<Away> {
    let cx = &tell.cx;
    let going = going(tell, purchase);
    let parts = cx.book.parts.keys();
    parts
        .filter(|part| !going.contains(part))
        .filter_map(|part| {
            let declared = cx.book.parts.get(part).filter(|part| !part.withheld)?;
            let stay = cx.history.parts.get(part).at(purchase.until)?;
            let date = cx.date(stay.entry).map_or_else(String::new, |date| format!(" {}", words::date(date)));
            Some(Away {
                part: cx.part(part).to_owned(),
                kind: cx.kind_of(part).replace('-', " "),
                serial: declared.serial.clone(),
                why: match stay.at {
                    Where::Scrapped => format!("scrapped{date}"),
                    Where::Failed => format!("came off failed{date}; stays with the shop"),
                    Where::Quarantine => format!("in quarantine since{date}; stays with the shop"),
                    Where::Sold => format!("sold{date}"),
                    Where::Lent => format!("lent{date}; stays with the shop"),
                    Where::Returned => format!("went back to its owner{date}"),
                    Where::Car(..) | Where::Inside(_) => format!("on another car since{date}"),
                    Where::Shelf | Where::New => "stays with the shop".to_owned(),
                },
            })
        })
        .collect()
}

/// The bench lines of parts that go along, with their rows.
pub(super) fn bench(tell: &Teller<'_>, purchase: &Purchase) -> Vec<TimelineLine> {
    let cx = &tell.cx;
    let mut lines: Vec<EntryId> = going(tell, purchase)
        .into_iter()
        .flat_map(|part| cx.history.slots.benches.get(&part).cloned().unwrap_or_default())
        .filter(|line| tell.entry(*line).is_some_and(|line| !line.withheld))
        .collect();
    lines.sort_unstable();
    let with_rows = |line: EntryId| std::iter::once(line).chain(cx.book.under(line).map(|(row, _)| row));
    let shown = |line: &EntryId| tell.entry(*line).is_some_and(|line: &Entry| !line.withheld);
    lines
        .into_iter()
        .flat_map(with_rows)
        .filter(shown)
        .filter_map(|line| Some(entry::line(tell, line, tell.entry(line)?, &Problems::default())))
        .collect()
}
