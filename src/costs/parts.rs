//! Parts as costs: a part costs its car its price when it is first fitted; until then it is in stock.
//!
//! Must not know lines about money beyond those that buy.

use super::booking::{Booked, Fold, With};
use super::posting::{Belongs, Kind};
use super::{Stocked, lenders};
use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::PartId;
use crate::history::History;
use crate::history::parts::Where;
use crate::money::Amount;
use crate::sorted;
use crate::source::Span;

/// A part's price and where it stands: the line that buys it, else its declaration, else its spec.
struct Price {
    amount: Option<Amount>,
    at: Option<Span>,
    bought: Option<EntryId>,
}

/// Posts the price of every one of the parts that was first fitted (or thrown away unused) in the book, and lists the rest as stock. A part that had been in use
/// before the book was paid for then, unless a line buys it.
pub fn first_fits(with: With<'_>, parts: &[PartId]) -> Booked {
    let mut fold = Fold::new(with);
    for part in parts.iter().copied() {
        let price = price(with.book, with.history, part);
        let Some(declared) = with.book.parts.get(part) else { continue };
        if declared.is_used() && price.bought.is_none() {
            continue;
        }
        let told = fold.history.parts.get(part);
        let stays = &told.stays[..];
        // What was borrowed costs something from the line on that buys it.
        let bought = match kept(with, part) {
            Kept::Ours => None,
            Kept::BoughtBy(line) => Some(line),
            Kept::Never => continue,
        };
        let stays = bought.map_or(stays, |line| {
            let rank = with.history.rank(with.book, line);
            sorted::from(stays, |stay| stay.until <= rank)
        });
        let on_car = stays.iter().find_map(|stay| Some((stay, stay.car)).filter(|(_, car)| car.is_some()));
        // What leaves the shop without ever having been on a car is the shop's own loss, on that day; the client it was sold to
        // has paid for it then, whichever car of his it goes on later.
        let kept = stays.iter().rposition(|stay| stay.at == Where::Shelf).map_or(0, |at| at + 1);
        let sold = stays.iter().skip(kept).find(|stay| stay.at == Where::Sold);
        let sold = sold.filter(|sold| on_car.is_none_or(|(stay, _)| sold.from < stay.from));
        let scrapped = stays.last().filter(|stay| on_car.is_none() && stay.at == Where::Scrapped);
        let left = sold.or(scrapped);
        // What broke before it was bought is paid for by the car on which it broke.
        if let Some((line, broke)) =
            bought.and_then(|line| Some((line, lenders::broke_before(with.book, with.history, part, line)?)))
            && let Some(car) = told.at(with.history.rank(with.book, broke)).and_then(|stay| stay.car)
            && let Some(to) = fold.belongs(line)
        {
            let to = Belongs { car: Some(car), client: fold.client(Some(car), broke), ..to };
            fold.price(line, to, part, &price);
            continue;
        }
        let Some((stay, car)) = left.map(|stay| (stay, None)).or(on_car) else {
            // A line with a mistake may have fitted it: what that cost its car is not known, and whether it is in stock.
            if let Some(line) = perhaps_fitted(with, part) {
                if let Some(to) = fold.belongs(line) {
                    fold.price(line, to, part, &Price { amount: None, ..price });
                }
                continue;
            }
            if let Some(amount) = price.amount.filter(|_| price.bought.is_some() || !stays.is_empty()) {
                fold.booked.stock.push(Stocked { part, price: amount, entry: price.bought });
            }
            continue;
        };
        let on_then = bought.filter(|line| stay.from < with.history.rank(with.book, *line));
        let line = on_then.unwrap_or(stay.entry);
        let Some(mut to) = fold.belongs(line) else { continue };
        to = Belongs { car, client: fold.client(car, line), ..to };
        fold.price(line, to, part, &price);
    }
    fold.booked
}

/// The first line with a mistake that names a part, or nearly, and would have put it on a car.
fn perhaps_fitted(with: With<'_>, part: PartId) -> Option<EntryId> {
    let puts_on = |line: &EntryId| with.book.entries.get(*line).is_some_and(|entry| entry.verb.puts_on());
    with.history.parts.get(part).mistaken.iter().copied().find(puts_on)
}

/// What lines with a mistake cost that would have fitted a part which nobody can name: not known.
pub fn unnamed(with: With<'_>) -> Booked {
    let mut fold = Fold::new(with);
    for (line, entry) in with.book.entries.iter_enumerated() {
        let facts = with.book.extra(entry).and_then(|extra| extra.parts.as_deref());
        let named = entry.part().is_some() || facts.is_some_and(|facts| !facts.more.is_empty());
        if !entry.broken || named || !entry.verb.puts_on() {
            continue;
        }
        if let Some(to) = fold.belongs(line) {
            fold.post(line, to, Kind::Parts, None);
        }
    }
    fold.booked
}

impl Fold<'_> {
    /// Posts what a part costs.
    fn price(&mut self, line: EntryId, to: Belongs, part: PartId, price: &Price) {
        let kind = self.book.parts.get(part).and_then(|part| self.book.kinds.get(part.kind?));
        let posting = self.post(line, to, kind.map_or(Kind::Parts, |kind| kind.books.into()), price.amount);
        posting.part = Some(part);
        posting.price = price.at;
    }
}

/// Whose a part is that may have been borrowed.
#[derive(Clone, Copy)]
enum Kept {
    /// It never was borrowed.
    Ours,
    /// It was, until this line bought it.
    BoughtBy(EntryId),
    /// It was, and no line buys it.
    Never,
}

fn kept(with: With<'_>, part: PartId) -> Kept {
    let told = with.history.parts.get(part);
    let Some(first) = told.loans.iter().find(|loan| !loan.lent) else { return Kept::Ours };
    let buys = |line: &&EntryId| {
        let buys = with.book.entries.get(**line).is_some_and(|entry| entry.verb == Verb::Buy);
        buys && with.history.rank(with.book, **line) > first.out.0
    };
    told.lines.iter().find(buys).map_or(Kept::Never, |line| Kept::BoughtBy(*line))
}

/// What another of a part's sort costs, and where that stands: its spec's price, else what the part itself cost.
#[must_use]
pub fn list_price(book: &Book, history: &History, part: PartId) -> Option<(Amount, Span)> {
    let spec = book.parts.get(part)?.spec.and_then(|spec| book.specs.get(spec));
    let listed = spec.and_then(|spec| Some((spec.price?, spec.named.declared)));
    listed.or_else(|| {
        let own = price(book, history, part);
        own.amount.zip(own.at)
    })
}

/// What was agreed for it when it was borrowed.
fn agreed(book: &Book, history: &History, part: PartId) -> Option<Amount> {
    let lines = history.parts.get(part).lines.iter().rev();
    let mut borrowed =
        lines.filter_map(|line| book.entries.get(*line)).filter(|line| line.verb == Verb::Borrow);
    book.extra(borrowed.next()?)?.parts.as_ref()?.money
}

fn price(book: &Book, history: &History, part: PartId) -> Price {
    for line in &history.parts.get(part).lines {
        let Some(entry) = book.entries.get(*line).filter(|entry| entry.verb == Verb::Buy) else {
            continue;
        };
        let Some(facts) = book.extra(entry).and_then(|extra| extra.parts.as_ref()) else { continue };
        let sum = facts.money.or_else(|| agreed(book, history, part).filter(|_| !facts.money_lost));
        if sum.is_some() || facts.money_lost {
            return Price { amount: sum, at: Some(entry.span()), bought: Some(*line) };
        }
    }
    let lost = |line: &&EntryId| book.entries.get(**line).is_some_and(|entry| entry.verb == Verb::Buy);
    if let Some(line) = history.parts.get(part).mistaken.iter().find(lost) {
        let at = book.entries.get(*line).map(crate::book::entry::Entry::span);
        return Price { amount: None, at, bought: Some(*line) };
    }
    let declared = &book.parts[part];
    if declared.price.is_some() {
        return Price { amount: declared.price, at: Some(declared.named.declared), bought: None };
    }
    let spec = declared.spec.and_then(|spec| book.specs.get(spec)).filter(|spec| spec.price.is_some());
    Price { amount: spec.and_then(|spec| spec.price), at: spec.map(|spec| spec.named.declared), bought: None }
}
