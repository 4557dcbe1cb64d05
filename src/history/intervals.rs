//! Work that comes round again: when it was last done, and how much the part or the car has run since.
//!
//! Must not know what is done about it; reports and checks do.

mod done;
mod places;
mod start;

use super::History;
use super::sessions::Session;
use super::slots::Owner;
use super::tally::{Tally, months};
use super::{partly, usage};
use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::model::{CarId, Clock, Every, Work};
pub use crate::history::intervals::start::Start;
use crate::history::order::Rank;
use crate::history::untold::may_have_run;
use done::Done;
use jiff::civil::Date;
use std::borrow::Cow;

/// One kind of work on one part or car, with every time it was done.
#[derive(Debug, Clone)]
pub struct Round<'a> {
    /// The part or the car.
    pub owner: Owner,
    /// What is to be done, and after how much.
    pub every: &'a Every,
    /// When counting began, in order; the first is the beginning of the book.
    pub starts: Vec<Start>,
}

/// How far an interval has run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Since {
    /// Seconds, metres, a count, months.
    pub value: f64,
    /// Something is not known, so that it is this much or more.
    pub at_least: bool,
}

/// An interval at a moment.
#[derive(Debug, Clone, Copy)]
pub struct Interval<'a> {
    /// The part or the car.
    pub owner: Owner,
    /// The car it is on then, in an assembly or by itself; for a car itself.
    pub car: Option<CarId>,
    /// What is to be done, and after how much.
    pub every: &'a Every,
    /// The line that did it last.
    pub last: Option<EntryId>,
    /// Use since then; where it was never done, since new.
    pub since: Since,
    /// What is left of the interval; below zero when it is over.
    pub left: f64,
    /// On the calendar (months): the day it runs to.
    pub due_on: Option<Date>,
}

/// Every interval of every part and car that the shop still has at the moment before `rank`, on that day.
#[must_use]
pub fn intervals<'a>(book: &'a Book, history: &History, rank: Rank, day: Date) -> Vec<Interval<'a>> {
    let mut list = Vec::new();
    for round in rounds(book, history) {
        let car = match round.owner {
            Owner::Car(car) => match history.parts.sold.get(&car) {
                Some((sold, _)) if *sold < rank => continue,
                _ => Some(car),
            },
            Owner::Part(part) => match history.parts.get(part).at(rank) {
                Some(stay) if stay.at.is_gone() => continue,
                stay => stay.and_then(|stay| stay.car),
            },
        };
        let next = round.starts.partition_point(|start| start.rank < rank);
        let Some(start) = round.starts.get(next.saturating_sub(1)).copied() else { continue };
        let mut used = Tally::default();
        for session in ran(book, history, round.owner, start.rank, rank) {
            used.add(&session);
        }
        if !sure(history, round.owner, start.rank, rank) {
            used.unsure();
        }
        if let Owner::Part(part) = round.owner {
            for loan in history.parts.get(part).lent_between(start.rank, rank) {
                used.add_away(loan.ran(book, rank));
            }
        }
        let since = round.since(book, history, &start, &used, day);
        let amount = round.every.amount;
        let from = round.counts_from(book, history, &start).filter(|_| amount.clock == Clock::Months);
        list.push(Interval {
            owner: round.owner,
            car,
            every: round.every,
            last: start.entry,
            since,
            left: amount.value - since.value,
            due_on: from.and_then(|from| month_end(from, amount.value)),
        });
    }
    list
}

impl Round<'_> {
    /// How far it has run since `start`, with the sessions run since in `used`.
    #[must_use]
    pub fn since(&self, book: &Book, history: &History, start: &Start, used: &Tally, day: Date) -> Since {
        let clock = self.every.amount.clock;
        let first = start.entry.is_none();
        let (run, unsaid) = match clock {
            Clock::Months => {
                let from = self.counts_from(book, history, start);
                (from.map_or(0.0, |from| months(from, day).max(0.0)), false)
            }
            clock => used.on(clock),
        };
        // What it had run before the book: a part's declaration may say, a car's does not.
        let opening = match self.owner {
            _ if !first => Some(0.0),
            Owner::Part(part) => usage::opening(book, part, clock),
            Owner::Car(_) => None,
        };
        Since { value: run + opening.unwrap_or(0.0), at_least: unsaid || opening.is_none() || !start.sure }
    }

    /// The day from which months count: that of the line; before any, a part's first on a car, a car's first line.
    fn counts_from(&self, book: &Book, history: &History, start: &Start) -> Option<Date> {
        let date = |entry: EntryId| history.order.date(book, entry);
        if let Some(entry) = start.entry {
            return date(entry);
        }
        match self.owner {
            Owner::Part(part) => {
                let stays = &history.parts.get(part).stays;
                date(stays.iter().find(|stay| stay.car.is_some())?.entry)
            }
            Owner::Car(car) => book.heads_of(car).map(|head| head.date).min(),
        }
    }
}

/// The day so many months after another; on a month that has no such day, its last.
fn month_end(from: Date, months: f64) -> Option<Date> {
    let whole = libm::floor(months);
    let days = libm::round((months - whole) * 31.0);
    let span = jiff::Span::new().try_months(whole as i64).ok()?;
    let rest = jiff::Span::new().try_days(days as i64).ok()?;
    from.checked_add(span).ok()?.checked_add(rest).ok()
}

/// The sessions that a part or a car surely ran with `from <= rank < until`, in order, each as far as it ran it; see [`sure`].
#[must_use]
pub fn ran<'a>(
    book: &'a Book,
    history: &'a History,
    owner: Owner,
    from: Rank,
    until: Rank,
) -> Box<dyn Iterator<Item = Cow<'a, Session>> + 'a> {
    match owner {
        Owner::Car(car) => {
            Box::new(history.sessions.ran_between(car, from, until).into_iter().map(Cow::Borrowed))
        }
        Owner::Part(part) => {
            let lines = history.parts.get(part);
            Box::new(lines.stays.iter().flat_map(move |stay| {
                let (sessions, _) = usage::ran(history, part, stay, from, until);
                sessions.into_iter().map(move |leg| partly::up_to(book, history, &lines.failures, leg))
            }))
        }
    }
}

/// Whether those are all of them: not where a line with a mistake leaves it open how long the part was there.
#[must_use]
pub fn sure(history: &History, owner: Owner, from: Rank, until: Rank) -> bool {
    match owner {
        Owner::Car(car) => !history.sessions.lost_between(car, from, until),
        Owner::Part(part) => {
            let sure = |stay| usage::ran(history, part, stay, from, until).1;
            history.parts.get(part).stays.iter().all(sure) && !may_have_run(history, part, from, until)
        }
    }
}

/// Every interval of the book with the lines that began it anew, parts first.
#[must_use]
pub fn rounds<'a>(book: &'a Book, history: &History) -> Vec<Round<'a>> {
    let mut list = Vec::new();
    if book.kinds.iter().all(|kind| kind.every.is_empty()) && book.cars.iter().all(|car| car.every.is_empty())
    {
        return list;
    }
    let done = Done::of(book, history);
    for (index, part) in book.parts.iter_enumerated() {
        let Some(kind) = part.kind.and_then(|kind| book.kinds.get(kind)) else { continue };
        let part = index;
        for every in &kind.every {
            let mut starts = vec![BEGINNING];
            starts.extend(done.on_part(book, history, part, every.work));
            push(&mut list, Owner::Part(part), every, starts);
        }
    }
    for (index, car) in book.cars.iter_enumerated() {
        let car_id = index;
        for every in &car.every {
            let mut starts = vec![BEGINNING];
            if let Work::Quantity(verb, quantity) = every.work {
                starts.extend(done.on_car(book, car_id, verb, quantity));
            }
            push(&mut list, Owner::Car(car_id), every, starts);
        }
    }
    list
}

const BEGINNING: Start = Start { rank: Rank::START, entry: None, sure: true };

fn push<'a>(list: &mut Vec<Round<'a>>, owner: Owner, every: &'a Every, mut starts: Vec<Start>) {
    starts.sort_by_key(|start| (start.rank, start.entry));
    list.push(Round { owner, every, starts });
}
