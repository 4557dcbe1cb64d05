//! How much fuel is aboard: what was last stated, what was added since, and what the sessions since have burnt.
//!
//! `fill fuel 48 L` states, `fill fuel +30 L` adds. A session burns what was read as `fuel-used` in it, else the car's `fuel-rate` by its
//! minutes. Must not know figures.

use super::order::{Order, Rank};
use super::sessions::{Session, Sessions};
use super::slots::event::{Register, SlotEvent};
use crate::book::Book;
use crate::book::entry::{Entry, EntryId, Flags, Item, Verb};
use crate::book::model::CarId;
use crate::sorted;
use crate::source::Files;
use rustc_hash::FxHashMap;

/// What a car's slots hold about fuel, in order.
#[derive(Debug, Clone, Copy, Default)]
pub struct Tank<'a> {
    /// Of `fuel`.
    pub fuel: &'a [SlotEvent],
    /// Of `fuel-rate`.
    pub rate: &'a [SlotEvent],
    /// Of `fuel-used`.
    pub used: &'a [SlotEvent],
    /// The lines about `fuel-used` with a mistake, in order: before the first that has none no slot tells of them.
    pub lost: &'a [EntryId],
}

/// Something that changed how much is aboard.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Flow {
    /// So much was aboard.
    Stated(SlotEvent),
    /// A line added to it.
    Added(SlotEvent),
    /// A session burnt what was read in it.
    Used {
        /// Its `run`.
        run: EntryId,
        /// The reading.
        read: SlotEvent,
    },
    /// A session, or a leg of it, burnt by the rate.
    Burnt {
        /// Its `run`.
        run: EntryId,
        /// The rate.
        rate: SlotEvent,
        /// Minutes.
        minutes: f64,
        /// The moment of the rate.
        from: Rank,
        /// Its stops are in it: how long it ran between them is not known.
        over_stops: bool,
    },
}

impl Flow {
    /// What it leaves of so much, cubic metres. What a line added is its own number, not what was then aboard.
    #[must_use]
    pub fn after(&self, book: &Book, level: f64) -> f64 {
        match self {
            Self::Stated(event) => event.value,
            Self::Added(event) => level + book.items.get(event.item()).map_or(0.0, |item| item.si),
            Self::Used { read, .. } => level - read.value,
            Self::Burnt { rate, minutes, .. } => level - rate.value * minutes * 60.0,
        }
    }

    /// Whether all that a session burnt is booked as it began, whatever its stops put in.
    #[must_use]
    pub const fn of_all(&self) -> bool {
        matches!(self, Self::Used { .. } | Self::Burnt { over_stops: true, .. })
    }
}

/// Why nobody knows how much is aboard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unclear {
    /// No line says how much there ever was.
    NotStated,
    /// A line about it has a mistake.
    Broken(EntryId),
    /// A line adds to what nobody knows.
    AddedTo(EntryId),
    /// A session ran, and neither a rate nor what it used is known.
    Rate(EntryId),
    /// A session's minutes are not known.
    Minutes(EntryId),
    /// A session drove on the road, for which no rate holds.
    Road(EntryId),
}

/// From where an account is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Since {
    /// From the last line that says how much is aboard: every flow since is told.
    Stated,
    /// From the last line between sessions, whether it says how much is aboard or was added up to it: the sum alone is wanted.
    Known,
}

/// Whether a line adds to what is aboard: it fills with a plus in front of its number, or adjusts.
#[must_use]
pub fn adds(book: &Book, files: &Files, entry: EntryId, item: &Item) -> bool {
    let Some(line) = book.entries.get(entry).filter(|line| !line.broken) else { return false };
    // What was typed says so, whatever number was put in its place since.
    let plus = || files.typed(item.span(line.file)).starts_with('+');
    let verb = line.verb == Verb::Adjust || line.verb == Verb::Fill && plus();
    verb && item.has_value() && !item.is(Flags::PART)
}

/// Whether a line fills with a plus in front of an amount, of whatever fluid: it adds, and changes nothing that was there.
#[must_use]
pub fn tops_up(book: &Book, files: &Files, line: &Entry) -> bool {
    let plus = |item: &Item| files.typed(item.span(line.file)).starts_with('+');
    line.verb == Verb::Fill && book.items_of(line).iter().any(plus)
}

impl Tank<'_> {
    /// What was stated last before a rank, and everything since, in order. `since` says what stands for a statement.
    ///
    /// # Errors
    /// Why that is not known.
    pub fn flows(
        &self,
        (book, files, order): (&Book, &Files, &Order),
        sessions: &Sessions,
        (car, until): (CarId, Rank),
        since: Since,
    ) -> Result<Vec<Flow>, Unclear> {
        let rank = |event: &SlotEvent| event.rank(order).unwrap_or(Rank::START);
        let before = |event: &&SlotEvent| event.entry.is_none() || rank(event) < until;
        let added = |event: &SlotEvent| {
            event.entry.is_some_and(|entry| {
                book.items.get(event.item()).is_some_and(|item| adds(book, files, entry, item))
            })
        };
        let mut flows = Vec::new();
        let mut from = None;
        let reached = sorted::until(self.fuel, |event| before(&event));
        for event in reached.iter().rev() {
            let known = since == Since::Known && event.register() != Register::Unknown;
            let between = || event.entry.is_none_or(|entry| sessions.during(book, entry).is_none());
            if added(event) && !(known && between()) {
                flows.push((rank(event), Flow::Added(*event)));
            } else if event.register() == Register::Unknown {
                return Err(event.entry.map_or(Unclear::NotStated, |entry| {
                    let line = book.entries.get(entry);
                    let lost = line.is_none_or(|line| line.broken || line.withheld);
                    if lost { Unclear::Broken(entry) } else { Unclear::AddedTo(entry) }
                }));
            } else {
                flows.push((rank(event), Flow::Stated(*event)));
                from = Some(rank(event));
                break;
            }
        }
        let from = from.ok_or(Unclear::NotStated)?;
        // What was read of a session stands behind its start.
        let mut used: FxHashMap<EntryId, Result<SlotEvent, EntryId>> = FxHashMap::default();
        // The moment during a session stands before its own lines, and what it burnt is what they read.
        let during = |run: EntryId| {
            let began = order.rank.get(run).copied().unwrap_or(Rank::START);
            let session = sessions.between(car, began, began.next()).first();
            session.is_some_and(|id| sessions.get(*id).entry == run && sessions.get(*id).during == until)
        };
        for line in self.lost {
            let at = order.rank.get(*line).copied().unwrap_or(Rank::START);
            if at < from || at >= until && !sessions.during(book, *line).is_some_and(during) {
                continue;
            }
            // Of which session it is, its mistake may hide.
            let run = sessions.during(book, *line).ok_or(Unclear::Broken(*line))?;
            used.insert(run, Err(*line));
        }
        for event in sorted::from(self.used, |event| rank(event) < from) {
            let run = event.entry.and_then(|entry| sessions.during(book, entry));
            let read = event.register() == Register::Read;
            if let Some(run) = run.filter(|run| read && (rank(event) < until || during(*run))) {
                used.insert(run, Ok(*event));
            }
        }
        if let Some(line) = sessions.first_lost(car, from, until) {
            return Err(Unclear::Minutes(line));
        }
        let legs = sessions.legs_between(car, from, until);
        for row in legs.chunk_by(|leg, next| leg.entry == next.entry) {
            let Some(first) = row.first() else { continue };
            // What was read is of the whole session: of one that began before, or is not over, the rate tells the rest.
            match used.get(&first.entry).filter(|_| first.leg == 0) {
                Some(Err(line)) => return Err(Unclear::Broken(*line)),
                Some(Ok(read)) => flows.push((first.rank, Flow::Used { run: first.entry, read: *read })),
                None => flows.extend(self.by_rate(sessions, row, rank)?),
            }
        }
        flows.sort_by_key(|(rank, flow)| (*rank, !matches!(flow, Flow::Stated(_))));
        Ok(flows.into_iter().map(|(_, flow)| flow).collect())
    }

    /// What some legs of one session burnt: leg by leg, or all together where only that is known and the rate was the same.
    fn by_rate(
        &self,
        sessions: &Sessions,
        row: &[&Session],
        rank: impl Fn(&SlotEvent) -> Rank + Copy,
    ) -> Result<Vec<(Rank, Flow)>, Unclear> {
        let said = |leg: &&Session| leg.minutes.is_some() && leg.road.is_some();
        let rates = || row.iter().map(|leg| self.rate_at(leg.rank, rank));
        let together = sessions.together(row.to_vec());
        if let [one] = together.as_slice()
            && !row.iter().all(said)
            && rates()
                .all(|rate| rate.map(|rate| rate.value) == rates().next().flatten().map(|rate| rate.value))
        {
            return Ok(vec![(one.rank, self.burnt(one, row.len() > 1, rank)?)]);
        }
        row.iter().map(|leg| Ok((leg.rank, self.burnt(leg, false, rank)?))).collect()
    }

    /// The rate that held at a rank, where it is known: what was set last at a stop holds from there on.
    fn rate_at(&self, at: Rank, rank: impl Fn(&SlotEvent) -> Rank) -> Option<SlotEvent> {
        let set = sorted::until(self.rate, |event| event.entry.is_none() || rank(event) <= at);
        set.last().filter(|event| event.register() != Register::Unknown && event.value > 0.0).copied()
    }

    fn burnt(
        &self,
        leg: &Session,
        over_stops: bool,
        rank: impl Fn(&SlotEvent) -> Rank,
    ) -> Result<Flow, Unclear> {
        if leg.road != Some(0.0) {
            return Err(Unclear::Road(leg.entry));
        }
        let minutes = leg.minutes.ok_or(Unclear::Minutes(leg.entry))?;
        let rate = self.rate_at(leg.rank, rank).ok_or(Unclear::Rate(leg.entry))?;
        // What was set last at a stop is in the leg behind it.
        let from = if leg.leg > 0 { leg.rank.next() } else { leg.rank };
        Ok(Flow::Burnt { run: leg.entry, rate, minutes, from, over_stops })
    }
}

/// What some flows leave, cubic metres.
#[must_use]
pub fn left(book: &Book, flows: &[Flow]) -> f64 {
    flows.iter().fold(0.0, |level, flow| flow.after(book, level))
}
