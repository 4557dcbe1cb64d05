//! Sessions: when, how long, how far, by whom.
//!
//! Must not know settings or parts.

use super::order::{Length, Order, Zones};
use super::problem::Problem;
use crate::book::Book;
use crate::book::entry::{By, EntryId, RunId, Verb};
use crate::book::model::{CarId, EventId, PersonId};
use crate::book::names::folded;
use crate::history::order::Rank;
use crate::ids::Arena;
use crate::ids::ids;
use crate::source::{Files, Span};
use crate::statistics;
use jiff::civil::Date;
use rustc_hash::FxHashMap;

ids! {
    /// A session's number, in the order of the book's [`Order`].
    SessionId: u32,
}

/// One session of one car.
#[derive(Debug, Clone)]
pub struct Session {
    /// The car.
    pub car: CarId,
    /// The event, if it belongs to one.
    pub event: Option<EventId>,
    /// Its `run` entry.
    pub entry: EntryId,
    /// Index into [`Book::runs`].
    pub run: RunId,
    /// Its label.
    pub label: Span,
    /// The entry's rank.
    pub rank: Rank,
    /// Rank after its last line (and the lines under it).
    pub after: Rank,
    /// Start, minutes since the epoch.
    pub start: i32,
    /// End; the start where neither an end nor minutes are known.
    pub end: i32,
    /// Calendar date it started on.
    pub date: Date,
    /// Calendar date it ended on: another where it went past midnight. It is judged on each of its days.
    pub last: Date,
    /// Running minutes, typed or from the clock.
    pub minutes: Option<f64>,
    /// Laps, typed or counted.
    pub laps: Option<u32>,
    /// Best lap, typed or the least listed; seconds.
    pub best: Option<f64>,
    /// Metres, typed or laps by the circuit's length.
    pub distance: Option<f64>,
    /// Standing starts.
    pub launches: Option<u32>,
    /// Heat cycles of its tyres.
    pub heat_cycles: u32,
    /// Who drove.
    pub driver: Option<PersonId>,
}

impl Session {
    /// Whole seconds of running, for what must be exact.
    #[must_use]
    pub fn seconds(&self) -> Option<u64> {
        self.minutes.map(|minutes| libm::round(minutes.max(0.0) * 60.0) as u64)
    }

    /// Whole millimetres, for what must be exact.
    #[must_use]
    pub fn millimetres(&self) -> Option<u64> {
        self.distance.map(|metres| libm::round(metres.max(0.0) * 1000.0) as u64)
    }
}

/// All sessions in order, and where to find one by label.
#[derive(Debug, Clone, Default)]
pub struct Sessions {
    /// In order.
    pub all: Arena<SessionId, Session>,
    /// Of each car, in order.
    pub of_car: Arena<CarId, Vec<SessionId>>,
    /// The session that an entry's `during` or `after` names.
    pub named: FxHashMap<EntryId, SessionId>,
    by_label: FxHashMap<(CarId, Result<EventId, Date>, Box<str>), SessionId>,
}

impl Sessions {
    /// The session; ids come only from here.
    #[must_use]
    pub fn get(&self, id: SessionId) -> &Session {
        &self.all[id]
    }

    /// A car's session by label, at an event or (outside events) on a date.
    #[must_use]
    pub fn find(&self, car: CarId, event: Option<EventId>, date: Date, label: &str) -> Option<SessionId> {
        let label: Box<str> = folded(label).into();
        self.by_label.get(&(car, event.ok_or(date), label)).copied()
    }

    /// A car's sessions at an event, in order.
    pub fn at(&self, car: CarId, event: EventId) -> impl Iterator<Item = (SessionId, &Session)> + '_ {
        self.of(car).filter(move |(_, session)| session.event == Some(event))
    }

    /// A car's sessions in order.
    pub fn of(&self, car: CarId) -> impl Iterator<Item = (SessionId, &Session)> {
        self.of_car.get(car).map_or(&[][..], Vec::as_slice).iter().map(|id| (*id, self.get(*id)))
    }

    /// The car's sessions with `from <= rank < until`, by binary search.
    #[must_use]
    pub fn between(&self, car: CarId, from: Rank, until: Rank) -> &[SessionId] {
        let Some(list) = self.of_car.get(car) else { return &[] };
        let first = list.partition_point(|id| self.get(*id).rank < from);
        let last = list.partition_point(|id| self.get(*id).rank < until);
        list.get(first..last.max(first)).unwrap_or_default()
    }
}

/// Works out the sessions.
pub fn sessions(book: &Book, files: &Files, order: &Order, problems: &mut Vec<Problem>) -> Sessions {
    let mut zones = Zones::new(book);
    let mut sessions = Sessions { of_car: vec![Vec::new(); book.cars.len()].into(), ..Sessions::default() };
    let mut by_rank: Vec<(Rank, RunId)> = book
        .runs
        .iter_enumerated()
        .map(|(run, typed)| (order.rank.get(typed.entry).copied().unwrap_or(Rank::START), run))
        .collect();
    by_rank.sort_unstable();
    for (rank, run) in by_rank {
        let typed = &book.runs[run];
        let Some(entry) = book.entries.get(typed.entry) else { continue };
        let Some(head) = book.head(entry) else { continue };
        let Some(car) = head.car else { continue };
        if entry.verb != Verb::Run || entry.void {
            continue;
        }
        let (start, end) = (order.at[typed.entry], order.ends[run]);
        let date = order.date(book, typed.entry).unwrap_or(head.date);
        let last = if end > start { zones.of(head.event).date_near(date, end - 1) } else { date };
        let listed = typed.times.len() as u32;
        let laps = typed.laps.or((listed > 0).then_some(listed));
        let clocked = match order.lengths.get(run) {
            Some(Length::Known(minutes) | Length::Back(minutes)) => Some(f64::from(*minutes)),
            _ => None,
        };
        let circuit = head.event.and_then(|event| book.events.get(event)).and_then(|event| event.circuit);
        let length =
            circuit.and_then(|circuit| book.circuits.get(circuit)).and_then(|circuit| circuit.length);
        let least =
            typed.times.iter().filter(|(_, slow)| !slow).map(|(time, _)| *time).fold(f64::INFINITY, f64::min);
        let id = SessionId::from(sessions.all.len());
        // Outside events by the day of its block, and past midnight by its own day too, where that has none of the label.
        let label: Box<str> = folded(files.text(typed.label)).into();
        let key = (car, head.event.ok_or(head.date), label.clone());
        let day = |entry: EntryId| book.head(book.entries.get(entry)?).map(|head| head.date);
        let first = sessions.by_label.get(&key).map(|first| sessions.get(*first));
        match first.filter(|first| first.event.is_some() || day(first.entry) == Some(head.date)) {
            Some(first) => {
                problems.push(Problem::SessionTwice { entry: typed.entry, first: first.entry });
            }
            None => {
                sessions.by_label.insert(key, id);
            }
        }
        if head.event.is_none() && date != head.date {
            sessions.by_label.entry((car, Err(date), label)).or_insert(id);
        }
        sessions.of_car[car].push(id);
        sessions.all.push(Session {
            car,
            event: head.event,
            entry: typed.entry,
            run,
            label: typed.label,
            rank,
            after: after(book, order, typed.entry, rank),
            start,
            end,
            date,
            last,
            minutes: typed.minutes.or(clocked),
            laps,
            best: typed.best.or(least.is_finite().then_some(least)),
            distance: typed.distance.or(laps.zip(length).map(|(laps, length)| f64::from(laps) * length)),
            launches: typed.launches,
            heat_cycles: typed.heat_cycles.unwrap_or(1),
            driver: match entry.by {
                By::Person(person) => Some(person),
                _ => None,
            },
        });
    }
    name(book, files, &mut sessions, problems);
    sessions
}

/// Finds the session that each `during` and `after` names.
fn name(book: &Book, files: &Files, sessions: &mut Sessions, problems: &mut Vec<Problem>) {
    for (index, entry) in book.entries.iter_enumerated() {
        let Some(label) = book.extra(entry).and_then(|extra| extra.after.or(extra.during)) else { continue };
        let Some((head, car)) = book.head(entry).and_then(|head| head.car.map(|car| (head, car))) else {
            continue;
        };
        let text = files.text(label);
        if let Some(id) = sessions.find(car, head.event, head.date, text) {
            sessions.named.insert(index, id);
            continue;
        }
        let labels: Vec<&str> = sessions
            .of(car)
            .filter(|(_, session)| {
                session.event == head.event && (head.event.is_some() || session.date == head.date)
            })
            .map(|(_, session)| files.text(session.label))
            .collect();
        let near = crate::book::names::nearest(text, labels.iter().copied())
            .or_else(|| labels.last().map(|label| (*label).to_owned()));
        problems.push(Problem::SessionUnknown { entry: index, near });
    }
}

/// The rank after a session's last own line.
fn after(book: &Book, order: &Order, entry: EntryId, rank: Rank) -> Rank {
    let head = book.entries[entry].head;
    let mut last = rank;
    for (index, below) in book.entries.iter_enumerated().skip(entry.index() + 1) {
        if below.head != head || below.parent.is_none() {
            break;
        }
        last = last.max(order.rank[index]);
    }
    last.next()
}

/// Fewer listed laps have no middle worth a line.
const LEAST: usize = 3;

/// The middle of a run's listed laps but for those into and out of the pits and those of no time, s, and how many they are; `None` of fewer
/// than three.
#[must_use]
pub fn median(book: &Book, session: &Session) -> Option<(f64, usize)> {
    let times = &book.runs.get(session.run)?.times;
    let flying = times.iter().filter(|(time, slow)| !slow && time.is_finite() && *time > 0.0);
    let mut laps: Vec<f64> = flying.map(|(time, _)| *time).collect();
    laps.sort_by(f64::total_cmp);
    statistics::middle(&laps).filter(|_| laps.len() >= LEAST).map(|middle| (middle, laps.len()))
}
