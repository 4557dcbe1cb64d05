//! Work that comes round again: when it was last done, and how much the part or the car has run since.
//!
//! Must not know what is done about it; reports and checks do.

use super::History;
use super::parts::Where;
use super::sessions::Session;
use super::slots::Owner;
use super::usage::{self, Use};
use crate::book::Book;
use crate::book::entry::{Entry, Verb};
use crate::book::model::{CarId, Clock, Every, PartId, Work};
use crate::book::place::Place;
use crate::vocabulary::QuantityId;
use jiff::civil::Date;
use rustc_hash::FxHashMap;

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

/// A time from which use is counted anew.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Start {
    /// When, in the order of the book.
    pub rank: u32,
    /// The line that did the work; `None` for the beginning of the book.
    pub entry: Option<u32>,
    /// Whether the line says so for certain: one with a mistake may have been something else.
    pub sure: bool,
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
    pub last: Option<u32>,
    /// Use since then; where it was never done, since new.
    pub since: Since,
    /// What is left of the interval; below zero when it is over.
    pub left: f64,
    /// On the calendar (months): the day it runs to.
    pub due_on: Option<Date>,
}

/// Every interval of every part and car that the shop still has at the moment before `rank`, on that day.
#[must_use]
pub fn intervals<'a>(book: &'a Book, history: &History, rank: u32, day: Date) -> Vec<Interval<'a>> {
    let mut list = Vec::new();
    for round in rounds(book, history) {
        let car = match round.owner {
            Owner::Car(car) => match history.parts.sold.get(&car) {
                Some((sold, _)) if *sold < rank => continue,
                _ => Some(car),
            },
            Owner::Part(part) => match history.parts.get(part).at(rank) {
                Some(stay) if matches!(stay.at, Where::Scrapped | Where::Sold) => continue,
                stay => stay.and_then(|stay| stay.car),
            },
        };
        let next = round.starts.partition_point(|start| start.rank < rank);
        let Some(start) = round.starts.get(next.saturating_sub(1)).copied() else { continue };
        let mut used = Use::default();
        for (session, share) in ran(book, history, round.owner, start.rank, rank) {
            used.add(session, share);
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
    pub fn since(&self, book: &Book, history: &History, start: &Start, used: &Use, day: Date) -> Since {
        let clock = self.every.amount.clock;
        let first = start.entry.is_none();
        let (run, unsaid) = match clock {
            Clock::Months => {
                let from = self.counts_from(book, history, start);
                (from.map_or(0.0, |from| super::tally::months(from, day).max(0.0)), false)
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
        let date = |entry: u32| book.head(book.entries.get(entry as usize)?).map(|head| head.date);
        if let Some(entry) = start.entry {
            return date(entry);
        }
        match self.owner {
            Owner::Part(part) => {
                let stays = &history.parts.get(part).stays;
                date(stays.iter().find(|stay| stay.car.is_some())?.entry)
            }
            Owner::Car(car) => {
                book.heads.iter().filter(|head| head.car == Some(car)).map(|head| head.date).min()
            }
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

/// The sessions that a part or a car ran with `from <= rank < until`, in order, with the share of each.
pub fn ran<'a>(
    book: &'a Book,
    history: &'a History,
    owner: Owner,
    from: u32,
    until: u32,
) -> Box<dyn Iterator<Item = (&'a Session, f64)> + 'a> {
    let get = |id: &super::sessions::SessionId| history.sessions.get(*id);
    match owner {
        Owner::Car(car) => {
            Box::new(history.sessions.between(car, from, until).iter().map(move |id| (get(id), 1.0)))
        }
        Owner::Part(part) => {
            let lines = history.parts.get(part);
            Box::new(lines.stays.iter().flat_map(move |stay| {
                let sessions = stay.car.map_or(&[][..], |car| {
                    history.sessions.between(car, stay.from.max(from), stay.until.min(until))
                });
                sessions
                    .iter()
                    .map(move |id| (get(id), usage::share(book, history, &lines.failures, get(id))))
            }))
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
    for (index, part) in book.parts.iter().enumerate() {
        let Some(kind) = book.kinds.get(part.kind.0 as usize) else { continue };
        let part = PartId(index as u32);
        for every in &kind.every {
            let mut starts = vec![BEGINNING];
            starts.extend(done.on_part(book, history, part, every.work));
            push(&mut list, Owner::Part(part), every, starts);
        }
    }
    for (index, car) in book.cars.iter().enumerate() {
        let car_id = CarId(index as u32);
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

const BEGINNING: Start = Start { rank: 0, entry: None, sure: true };

fn push<'a>(list: &mut Vec<Round<'a>>, owner: Owner, every: &'a Every, mut starts: Vec<Start>) {
    starts.sort_by_key(|start| (start.rank, start.entry));
    list.push(Round { owner, every, starts });
}

/// A line that may have been the work.
#[derive(Debug, Clone, Copy)]
struct Line {
    rank: u32,
    entry: u32,
    car: Option<CarId>,
}

impl Line {
    fn start(self, book: &Book) -> Start {
        let sure = book.entries.get(self.entry as usize).is_some_and(|entry| !entry.broken);
        Start { rank: self.rank, entry: Some(self.entry), sure }
    }
}

/// The lines of the book that do work of one kind or another.
#[derive(Debug, Default)]
struct Done {
    parts: FxHashMap<(PartId, Verb), Vec<Line>>,
    quantities: FxHashMap<(Verb, QuantityId), Vec<Line>>,
}

impl Done {
    fn of(book: &Book, history: &History) -> Self {
        let mut done = Self::default();
        for (index, entry) in book.entries.iter().enumerate() {
            if entry.void {
                continue;
            }
            let index = index as u32;
            let line = |rank| Line { rank, entry: index, car: book.head(entry).and_then(|head| head.car) };
            match (entry.verb, entry.quantity()) {
                (Verb::Inspect | Verb::Bench, _) => {
                    let facts = book.extra(entry).and_then(|extra| extra.parts.as_deref());
                    let more = facts.map_or(&[][..], |facts| facts.more.as_slice());
                    for part in entry.part().iter().chain(more) {
                        let lines = done.parts.entry((*part, entry.verb)).or_default();
                        lines.push(line(history.rank(book, index)));
                    }
                }
                (Verb::Torque | Verb::Recheck | Verb::Fill, Some(quantity)) => {
                    let lines = done.quantities.entry((entry.verb, quantity)).or_default();
                    lines.push(line(history.rank(book, index)));
                }
                _ => {}
            }
            if let Some(quantity) = entry.quantity().filter(|_| entry.verb.is_reading()) {
                let lines = done.quantities.entry((Verb::Read, quantity)).or_default();
                lines.push(line(history.rank(book, index)));
            }
        }
        done
    }

    /// When the work was done on a part; a rebuild begins every interval of it anew.
    fn on_part(&self, book: &Book, history: &History, part: PartId, work: Work) -> Vec<Start> {
        let rebuilds = history.parts.get(part).rebuilds.iter();
        let mut starts: Vec<Start> = rebuilds
            .map(|rebuild| Start { rank: rebuild.rank, entry: Some(rebuild.entry), sure: true })
            .collect();
        match work {
            Work::Part(verb) => {
                let lines = self.parts.get(&(part, verb)).map_or(&[][..], Vec::as_slice);
                starts.extend(lines.iter().map(|line| line.start(book)));
            }
            Work::Quantity(verb, quantity) => {
                let lines = self.quantities.get(&(verb, quantity)).map_or(&[][..], Vec::as_slice);
                let on = lines.iter().filter(|line| {
                    let stay = history.parts.get(part).at(line.rank);
                    line.car.is_some()
                        && stay.is_some_and(|stay| stay.car == line.car)
                        && place_at(history, part, line.rank)
                            .is_none_or(|place| reaches(book, line.entry, place))
                });
                starts.extend(on.map(|line| line.start(book)));
            }
        }
        starts
    }

    /// When the work was done on a car: by lines about as many places as any of them is about.
    fn on_car(&self, book: &Book, car: CarId, verb: Verb, quantity: QuantityId) -> Vec<Start> {
        let lines = self.quantities.get(&(verb, quantity)).map_or(&[][..], Vec::as_slice);
        let own: Vec<(Line, usize)> = lines
            .iter()
            .filter(|line| line.car == Some(car))
            .map(|line| (*line, places(book, line.entry).len()))
            .collect();
        let most = own.iter().map(|(_, places)| *places).max().unwrap_or(0);
        let whole = own.iter().filter(|(_, places)| *places == 0 || *places == most);
        whole.map(|(line, _)| line.start(book)).collect()
    }
}

/// The place on the car of a part, or of what it is inside of.
fn place_at(history: &History, part: PartId, rank: u32) -> Option<Place> {
    let mut above = part;
    // Deeper than any assembly is long.
    for _ in 0..10_000 {
        match history.parts.get(above).at(rank)?.at {
            Where::Car(_, place) => return Some(place),
            Where::Inside(assembly) => above = assembly,
            _ => return None,
        }
    }
    None
}

/// The places a line is about, each once; none where it is about all there are.
fn places(book: &Book, entry: u32) -> Vec<Place> {
    let Some(entry) = book.entries.get(entry as usize) else { return Vec::new() };
    let mut places: Vec<Place> = book.items_of(entry).iter().map(|item| item.place).collect();
    let named = |entry: &Entry| {
        book.extra(entry).and_then(|extra| extra.parts.as_ref()).and_then(|facts| facts.place)
    };
    if places.is_empty() {
        places.extend(named(entry).iter().flat_map(|place| place.corners()));
    }
    places.sort_unstable();
    places.dedup();
    places.retain(|place| *place != Place::CAR);
    places
}

/// Whether a line is about a place.
fn reaches(book: &Book, entry: u32, place: Place) -> bool {
    let places = places(book, entry);
    places.is_empty() || places.iter().any(|one| one.touches(place))
}
