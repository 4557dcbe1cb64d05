//! Sessions: when, how long, how far, by whom.
//!
//! Must not know settings or parts.

use super::best;
use super::legs;
use super::order::{Length, Order, Zones};
use super::problem::Problem;
pub use super::session::Session;
use super::stretches::{self, Part};
use crate::book::Book;
use crate::book::entry::{By, EntryId, RunId, Verb};
use crate::book::model::{CarId, EventId, PersonId};
use crate::book::names::folded;
use crate::history::order::Rank;
use crate::ids::Arena;
use crate::ids::ids;
use crate::source::Files;
use crate::statistics;
use jiff::civil::Date;
use rustc_hash::FxHashMap;
use std::collections::BTreeMap;

ids! {
    /// A session's number, in the order of the book's [`Order`].
    SessionId: u32,
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
    /// The `stage` line that an entry's `during` names; the session it is of stands in `named`.
    stages: FxHashMap<EntryId, EntryId>,
    /// What each divided session was made of.
    pub(super) made_of: FxHashMap<SessionId, Vec<Part>>,
    /// Of the cars with a session that stops cut: all their legs, in order.
    pub(super) legs: FxHashMap<CarId, Vec<Session>>,
    /// Of the sessions that stops cut, by their lines: the session, and how many legs it has.
    pub(super) cut: FxHashMap<EntryId, (SessionId, u32)>,
    /// Of those, what legs that follow one another come to together: the first of them, and the one behind the last.
    pub(super) joined: FxHashMap<(EntryId, u32, u32), Session>,
    /// Of each car, in order, the ranks of `run` lines of which nobody knows all that was run, and the lines.
    lost: BTreeMap<CarId, Vec<(Rank, EntryId)>>,
    by_run: FxHashMap<EntryId, SessionId>,
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

    /// The session's `run` entry that a line's `during` names, or that it stands under.
    #[must_use]
    pub fn during(&self, book: &Book, index: EntryId) -> Option<EntryId> {
        let named = || self.named.get(&index).map(|id| self.get(*id).entry);
        book.session_above(book.entries.get(index)?).or_else(named)
    }

    /// The `stage` line that a line's `during` names, or that it stands under.
    #[must_use]
    pub fn stage(&self, book: &Book, index: EntryId) -> Option<EntryId> {
        let above = book.entries.get(index).and_then(|line| line.parent);
        let under =
            above.filter(|above| book.entries.get(*above).is_some_and(|line| line.verb == Verb::Stage));
        under.or_else(|| self.stages.get(&index).copied())
    }

    /// The stints, stages and stops of a session, or of that which a leg is of.
    pub(super) fn parts_of(&self, session: &Session) -> &[Part] {
        self.id_of(session).map_or(&[][..], |id| self.parts(id))
    }

    /// The stints, stages and stops of a session; empty for one that is not divided.
    #[must_use]
    pub fn parts(&self, id: SessionId) -> &[Part] {
        self.made_of.get(&id).map_or(&[][..], Vec::as_slice)
    }

    /// Whether the session of a `run` entry has stints, stages or stops.
    #[must_use]
    pub fn is_divided(&self, run: EntryId) -> bool {
        self.by_run.get(&run).is_some_and(|id| !self.parts(*id).is_empty())
    }

    /// Who drove in a session and for how long, as far as it is known: stint by stint, else as a whole.
    pub fn drives(
        &self,
        id: SessionId,
    ) -> impl Iterator<Item = (EntryId, Option<PersonId>, Option<f64>)> + '_ {
        let session = self.get(id);
        let parts = self.parts(id).iter().filter(|part| part.runs());
        let whole =
            (parts.clone().next().is_none()).then_some((session.entry, session.driver, session.minutes));
        parts.map(|part| (part.entry, part.driver, part.minutes)).chain(whole)
    }

    /// From when until when somebody drove, by the line of it, as far as that is known.
    #[must_use]
    pub fn drove(&self, order: &Order, id: SessionId, line: EntryId) -> Option<(i32, i32)> {
        let session = self.get(id);
        let whole = || Some((session.start, session.end)).filter(|_| order.begun.contains(&session.run));
        let part = self.parts(id).iter().find(|part| part.entry == line);
        part.map_or_else(whole, |part| part.was).filter(|(start, end)| end > start)
    }

    /// The session of a `run` line.
    #[must_use]
    pub fn of_run(&self, run: EntryId) -> Option<&Session> {
        self.by_run.get(&run).map(|id| self.get(*id))
    }

    /// The lines that name a session with `during` or `after`.
    pub fn about(&self, run: EntryId) -> impl Iterator<Item = EntryId> {
        self.named.iter().filter(move |(_, id)| self.get(**id).entry == run).map(|(line, _)| *line)
    }

    /// A car's last session that began before a rank.
    #[must_use]
    pub fn before(&self, car: CarId, rank: Rank) -> Option<SessionId> {
        let list = self.of_car.get(car)?;
        let next = list.partition_point(|id| self.get(*id).rank < rank);
        list.get(next.checked_sub(1)?).copied()
    }

    /// The number of a session, or of that which a leg is of.
    fn id_of(&self, session: &Session) -> Option<SessionId> {
        let cut = self.cut.get(&session.entry).map(|(id, _)| *id);
        cut.or_else(|| self.between(session.car, session.rank, session.rank.next()).first().copied())
    }

    /// Who drove in the session of a `run`, each once, in the order of its stints.
    #[must_use]
    pub fn drivers(&self, session: &Session) -> Vec<PersonId> {
        let mut drivers = Vec::new();
        for driver in
            self.id_of(session).into_iter().flat_map(|id| self.drives(id)).filter_map(|(_, driver, _)| driver)
        {
            if !drivers.contains(&driver) {
                drivers.push(driver);
            }
        }
        drivers
    }

    /// The moment during a session when its best lap was run.
    #[must_use]
    pub fn at_best(&self, order: &Order, session: &Session) -> Rank {
        let mut parts = self.id_of(session).map_or(&[][..], |id| self.parts(id)).iter();
        let best = parts.find(|part| part.best.is_some() && part.best == session.best);
        let rank = best.and_then(|part| order.rank.get(part.entry)).copied();
        let legs = rank.map_or_else(Vec::new, |rank| self.legs_between(session.car, session.rank, rank));
        legs.last().map_or(session.during, |leg| leg.during)
    }

    /// Of a session that stops cut, by its line, the rank after all of it.
    #[must_use]
    pub fn over(&self, run: EntryId) -> Option<Rank> {
        self.cut.get(&run).map(|(id, _)| self.get(*id).after)
    }

    /// A car's sessions in order, those that stops cut leg by leg.
    pub fn legs(&self, car: CarId) -> impl Iterator<Item = &Session> {
        let cut = self.legs.get(&car);
        let whole = cut.is_none().then(|| self.of(car).map(|(_, session)| session));
        cut.into_iter().flatten().chain(whole.into_iter().flatten())
    }

    /// The car's sessions, leg by leg, with `from <= rank < until`: what something that was aboard between them ran.
    #[must_use]
    pub fn legs_between(&self, car: CarId, from: Rank, until: Rank) -> Vec<&Session> {
        let Some(cut) = self.legs.get(&car) else {
            return self.between(car, from, until).iter().map(|id| self.get(*id)).collect();
        };
        let first = cut.partition_point(|leg| leg.rank < from);
        let last = cut.partition_point(|leg| leg.rank < until);
        cut.get(first..last.max(first)).unwrap_or_default().iter().collect()
    }

    /// What something that was aboard between them ran: the car's sessions with `from <= rank < until`, whole where all of it is between
    /// them; legs of one as they are known together, else leg by leg.
    #[must_use]
    pub fn ran_between(&self, car: CarId, from: Rank, until: Rank) -> Vec<&Session> {
        self.together(self.legs_between(car, from, until))
    }

    /// The same for the legs at those places in the order of [`Self::legs`].
    #[must_use]
    pub fn ran_at(&self, car: CarId, places: std::ops::Range<usize>) -> Vec<&Session> {
        if let Some(cut) = self.legs.get(&car) {
            return self.together(cut.get(places).unwrap_or_default().iter().collect());
        }
        let own = self.of_car.get(car).and_then(|own| own.get(places)).unwrap_or_default();
        own.iter().map(|id| self.get(*id)).collect()
    }

    /// Legs that follow one another as they are known together.
    pub(super) fn together<'a>(&'a self, legs: Vec<&'a Session>) -> Vec<&'a Session> {
        if self.joined.is_empty() {
            return legs;
        }
        let mut all = Vec::new();
        for row in legs.chunk_by(|leg, next| leg.entry == next.entry && next.leg == leg.leg + 1) {
            let known = row
                .first()
                .zip(row.last())
                .and_then(|(first, last)| self.joined.get(&(first.entry, first.leg, last.leg + 1)));
            match known {
                Some(known) => all.push(known),
                None => all.extend(row),
            }
        }
        all
    }

    /// All of the session of a leg.
    #[must_use]
    pub fn whole<'a>(&'a self, leg: &'a Session) -> &'a Session {
        let count = self.cut.get(&leg.entry).map(|(_, count)| *count);
        count.and_then(|count| self.joined.get(&(leg.entry, 0, count))).unwrap_or(leg)
    }

    /// Whether a `run` line of the car with `from <= rank < until` has a mistake, so that more may have been run than the book knows.
    #[must_use]
    pub fn lost_between(&self, car: CarId, from: Rank, until: Rank) -> bool {
        self.first_lost(car, from, until).is_some()
    }

    /// The first such line.
    #[must_use]
    pub fn first_lost(&self, car: CarId, from: Rank, until: Rank) -> Option<EntryId> {
        let list = self.lost.get(&car).map_or(&[][..], Vec::as_slice);
        let (rank, line) = list.get(list.partition_point(|(rank, _)| *rank < from))?;
        (*rank < until).then_some(*line)
    }

    /// The `run` lines of which nobody knows all that was run, each with a car that it may be of.
    pub fn lost(&self) -> impl Iterator<Item = (CarId, EntryId)> {
        self.lost.iter().flat_map(|(car, lines)| lines.iter().map(|(_, line)| (*car, *line)))
    }

    /// Whether a car, or any of them, ran with `from <= rank < until`, or may have.
    #[must_use]
    pub fn ran(&self, car: Option<CarId>, from: Rank, until: Rank) -> bool {
        if from >= until {
            return false;
        }
        let of_car = |car: CarId| {
            self.lost_between(car, from, until) || !self.legs_between(car, from, until).is_empty()
        };
        car.map_or_else(|| self.of_car.keys().any(of_car), of_car)
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

/// Works out the sessions, whole: they are cut into legs once it is known where every part was.
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
        let mut parts = stretches::parts(book, order, typed);
        let running = || parts.iter().filter(|part| part.runs());
        let staged = running().any(|part| part.verb == Verb::Stage);
        let of_parts = |amount: fn(&Part) -> Option<f64>| {
            running().next().and_then(|_| stretches::sum(running().map(amount)))
        };
        let listed = typed.times.len() as u32;
        let of_stints = of_parts(|part| part.laps.map(f64::from)).map(|laps| laps as u32);
        let laps = typed.laps.or((listed > 0).then_some(listed)).or(of_stints);
        // Of a line with a mistake nobody knows whether it says how long the car ran meanwhile.
        let clocked = match order.lengths.get(run).filter(|_| !entry.broken) {
            Some(Length::Known(minutes) | Length::Back(minutes)) => Some(f64::from(*minutes)),
            _ => None,
        };
        let circuit = head.event.and_then(|event| book.events.get(event)).and_then(|event| event.circuit);
        let length =
            circuit.and_then(|circuit| book.circuits.get(circuit)).and_then(|circuit| circuit.length);
        let least = best::least(&typed.times, running().filter_map(|part| part.best));
        let best = best::marked(typed.best, &typed.times, least);
        let best = best.unwrap_or_else(|| typed.best.or(least.is_finite().then_some(least)));
        let of_stages = of_parts(|part| part.distance).filter(|_| staged);
        let distance = typed.distance.or(of_stages);
        let distance = distance.or(laps.zip(length).map(|(laps, length)| f64::from(laps) * length));
        let road = typed.road.unwrap_or(0.0) + parts.iter().map(|part| part.road).sum::<f64>();
        let minutes = stretches::minutes(&mut parts, typed.minutes, clocked);
        let told = parts.iter().filter(|part| part.runs() && !entry.broken).filter_map(|part| part.minutes);
        let known = told.sum();
        let pinned = |part: &Part| book.entries.get(part.entry).is_some_and(|line| line.clock.0 >= 0);
        let begun = order.begun.contains(&run);
        stretches::lay(
            &mut parts,
            pinned,
            begun.then_some(start),
            Some(end).filter(|end| begun && *end > start),
        );
        // All on the road: nothing was timed.
        let on_road = typed.road.is_some()
            && (typed.minutes, typed.distance, typed.best, laps) == (None, None, None, None)
            && parts.is_empty();
        let (minutes, laps, distance) =
            if on_road { (minutes, Some(0), Some(0.0)) } else { (minutes, laps, distance) };
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
        let session = Session {
            car,
            event: head.event,
            event_lost: head.event_unknown,
            entry: typed.entry,
            run,
            label: typed.label,
            rank,
            after: over(book, order, typed.entry, (rank, start, end)),
            during: rank.next(),
            start,
            end,
            date,
            last,
            minutes,
            known,
            untimed: staged && road > 0.0 || entry.broken,
            laps,
            best,
            distance,
            lapped: !staged && laps.is_some_and(|laps| laps > 0),
            launches: typed.launches.or(on_road.then_some(0)),
            heat_cycles: typed.heat_cycles.unwrap_or(1),
            driver: match entry.by {
                By::Person(person) => Some(person),
                _ => stretches::only_driver(&parts),
            },
            road: Some(road),
            leg: 0,
            laps_before: Some(0),
        };
        if !parts.is_empty() {
            sessions.made_of.insert(id, parts);
        }
        sessions.by_run.insert(typed.entry, id);
        sessions.all.push(session);
    }
    sessions.lost = lost(book, order);
    name(book, files, &mut sessions, problems);
    sessions
}

/// Of each car, in order, the ranks of its `run` lines with a mistake; one under a head that names no car that there is may be of any that it may mean.
fn lost(book: &Book, order: &Order) -> BTreeMap<CarId, Vec<(Rank, EntryId)>> {
    let mut lost: BTreeMap<CarId, Vec<(Rank, EntryId)>> = BTreeMap::new();
    for (index, entry) in book.entries.iter_enumerated() {
        if entry.verb != Verb::Run {
            continue;
        }
        let (Some(head), Some(rank)) = (book.head(entry), order.rank.get(index)) else { continue };
        let any_car = head.car.is_none() && head.car_unknown;
        if !(entry.broken || any_car) {
            continue;
        }
        for car in book.may_be_of(entry.head) {
            lost.entry(car).or_default().push((*rank, index));
        }
    }
    for lines in lost.values_mut() {
        lines.sort_unstable();
    }
    lost
}

/// The rank behind a session: behind the lines under it, and behind what other lines did before it was over by the clock.
fn over(book: &Book, order: &Order, run: EntryId, (rank, start, end): (Rank, i32, i32)) -> Rank {
    let own = legs::below(book, order, run).map_or(rank, |last| last.max(rank)).next();
    if end <= start || !order.decided[run] {
        return own;
    }
    own.max(order.entries.partition_point(|entry| order.at[*entry] < end))
}

/// Finds the session that each `during` and `after` names.
fn name(book: &Book, files: &Files, sessions: &mut Sessions, problems: &mut Vec<Problem>) {
    for (index, entry) in book.entries.iter_enumerated() {
        let Some(extra) = book.extra(entry) else { continue };
        let Some(label) = extra.after.or(extra.during) else { continue };
        let Some((head, car)) = book.head(entry).and_then(|head| head.car.map(|car| (head, car))) else {
            continue;
        };
        let text = files.text(label);
        if let Some(id) = sessions.find(car, head.event, head.date, text) {
            let named = sessions.get(id).entry;
            if let Some(run) = book.session_above(entry).filter(|run| *run != named) {
                problems.push(Problem::SessionContradicts { entry: index, run, named });
                continue;
            }
            sessions.named.insert(index, id);
            continue;
        }
        let there = || {
            sessions.of(car).filter(|(_, session)| {
                session.event == head.event && (head.event.is_some() || session.date == head.date)
            })
        };
        // What came after a stage came after the session that it was driven in.
        let called = |part: &&Part| part.label.is_some_and(|label| folded(files.text(label)) == folded(text));
        let stages: Vec<(SessionId, EntryId)> = there()
            .flat_map(|(id, _)| sessions.parts(id).iter().filter(called).map(move |part| (id, part.entry)))
            .collect();
        let above = book.session_above(entry);
        let under = |id: &SessionId| above.is_none_or(|run| sessions.get(*id).entry == run);
        let mut here = stages.iter().filter(|(id, _)| under(id)).copied();
        let only = here.next().filter(|_| here.next().is_none());
        if extra.after.is_none()
            && let Some((id, stage)) = only
        {
            sessions.named.insert(index, id);
            sessions.stages.insert(index, stage);
            continue;
        }
        let several = extra.after.is_none() && stages.len() > 1;
        let near = match stages.as_slice() {
            [] => {
                let labels: Vec<&str> = there().map(|(_, session)| files.text(session.label)).collect();
                let only = if let [only] = labels.as_slice() { Some((*only).to_owned()) } else { None };
                crate::book::names::nearest(text, labels.iter().copied()).or(only)
            }
            [(only, _)] => Some(files.text(sessions.get(*only).label).to_owned()),
            _ => None,
        };
        let named = stages.first().map(|(id, _)| sessions.get(*id).entry);
        problems.push(match above.zip(named).filter(|_| extra.after.is_none() && stages.len() == 1) {
            Some((run, named)) => Problem::SessionContradicts { entry: index, run, named },
            None => Problem::SessionUnknown { entry: index, near, several },
        });
    }
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
