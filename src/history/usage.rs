//! How much a part has run: every clock, at session grain, along the whole path part-in-assembly-in-car.
//!
//! Must not know limits or statistics.

use super::History;
use super::partly;
use super::sessions::Session;
use super::tally::Tally;
use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::model::{Clock, EventId, PartId};
use crate::history::order::Rank;
use crate::history::parts::Stay;
use crate::history::untold::may_have_run;
use jiff::civil::Date;
use std::collections::BTreeSet;

/// Use over some sessions. A clock that some session did not state is "at least".
#[derive(Debug, Clone, Default, PartialEq)]
#[expect(clippy::struct_excessive_bools, reason = "each clock may be unsaid by itself")]
pub struct Use {
    /// Sessions.
    pub sessions: u32,
    /// Laps.
    pub laps: u32,
    /// Running minutes.
    pub minutes: f64,
    /// Metres, at speed and on the road.
    pub distance: f64,
    /// Metres of stages.
    pub timed: f64,
    /// Standing starts.
    pub launches: u32,
    /// Heat cycles.
    pub heat_cycles: u32,
    /// Calendar dates with a session.
    pub days: BTreeSet<Date>,
    /// Events, by number.
    pub events: BTreeSet<EventId>,
    /// Some session did not say its laps.
    pub laps_at_least: bool,
    /// Some session did not say its minutes.
    pub minutes_at_least: bool,
    /// Some session has no distance.
    pub distance_at_least: bool,
    /// What it ran while it was lent, where no session of the book says.
    pub away: Tally,
    /// Some session was at an event that nobody can read.
    pub events_at_least: bool,
    /// Some session has no distance at speed.
    pub timed_at_least: bool,
    /// The last session counted.
    last: Option<EntryId>,
}

impl Use {
    /// Adds a session, as far as it was run.
    pub fn add(&mut self, session: &Session) {
        // Two legs are one session.
        if self.last != Some(session.entry) {
            self.sessions += 1;
            self.heat_cycles += session.heat_cycles;
        }
        self.last = Some(session.entry);
        self.laps += session.laps.unwrap_or(0);
        self.minutes += session.least_minutes();
        self.distance += session.driven_least();
        self.timed += session.staged().unwrap_or(0.0);
        self.launches += session.launches.unwrap_or(0);
        self.laps_at_least |= session.laps.is_none();
        self.minutes_at_least |= session.all_minutes().is_none();
        self.distance_at_least |= session.driven().is_none();
        self.timed_at_least |= session.staged().is_none();
        self.days.extend(session.days());
        self.events.extend(session.event);
        self.events_at_least |= session.event_lost;
    }

    /// The amount on one clock (seconds, metres, a count), and whether it is only "at least". Months are calendar time
    /// and not counted here.
    #[must_use]
    pub fn on(&self, clock: Clock) -> (f64, bool) {
        let (value, at_least) = match clock {
            Clock::Time => (self.minutes * 60.0, self.minutes_at_least),
            Clock::Laps => (f64::from(self.laps), self.laps_at_least),
            Clock::Distance => (self.distance, self.distance_at_least),
            Clock::StageDistance => (self.timed, self.timed_at_least),
            Clock::Days => (self.days.len() as f64, false),
            Clock::Events => (self.events.len() as f64, self.events_at_least),
            Clock::Sessions => (f64::from(self.sessions), false),
            Clock::Launches => (f64::from(self.launches), false),
            Clock::HeatCycles => (f64::from(self.heat_cycles), false),
            Clock::Months => (0.0, true),
        };
        let (away, unsaid) = self.away.on(clock);
        (value + away, at_least || unsaid)
    }
}

/// Adds up sessions.
pub fn total<'a>(sessions: impl Iterator<Item = &'a Session>) -> Use {
    let mut sum = Use::default();
    for session in sessions {
        sum.add(session);
    }
    sum
}

/// A part's use in the book with `from <= rank < until`: the sessions its car ran while it was on, or inside
/// something that was on.
#[must_use]
pub fn of_part(book: &Book, history: &History, part: PartId, from: Rank, until: Rank) -> Use {
    let mut sum = Use::default();
    let lines = history.parts.get(part);
    for stay in &lines.stays {
        let (ran, sure) = ran(history, part, stay, from, until);
        for session in ran {
            sum.add(&partly::up_to(book, history, &lines.failures, session));
        }
        if !sure {
            sum.away.unsure();
        }
    }
    if may_have_run(history, part, from, until) {
        sum.away.unsure();
    }
    for loan in lines.lent_between(from, until) {
        sum.away.add_away(loan.ran(book, until));
    }
    sum
}

/// The sessions that a part surely ran in a stay with `from <= rank < until`, and whether those are all: not where its car ran on
/// after a line with a mistake that may have taken it off, nor where it may have run what no session tells of. None off the cars.
#[must_use]
pub fn ran<'a>(
    history: &'a History,
    part: PartId,
    stay: &Stay,
    from: Rank,
    until: Rank,
) -> (Vec<&'a Session>, bool) {
    let (from, until) = (stay.from.max(from), stay.until.min(until));
    let untold = || may_have_run(history, part, from, until);
    let Some(car) = stay.car.filter(|_| from < until) else {
        return (Vec::new(), from >= until || !untold());
    };
    let sure = history.parts.sure(part, stay).clamp(from, until);
    let open = sure < until && !history.sessions.legs_between(car, sure, until).is_empty();
    (history.sessions.ran_between(car, from, sure), !(open || untold()))
}

/// Rank of a part's last rebuild before `rank`, or 0.
#[must_use]
pub fn since_rebuild(history: &History, part: PartId, rank: Rank) -> Rank {
    history
        .parts
        .get(part)
        .rebuilds
        .iter()
        .rev()
        .find(|rebuild| rebuild.rank < rank)
        .map_or(Rank::START, |rebuild| rebuild.rank)
}

/// A part's use on one clock, with what it had run before the book.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Total {
    /// Seconds, metres, a count.
    pub value: f64,
    /// Something is not known, so that this is only a lower bound.
    pub at_least: bool,
    /// How much of it is from before the book; `None` where that is not known.
    pub opening: Option<f64>,
}

/// What a part had run before the book, as its declaration says; `None` where it does not.
#[must_use]
pub fn opening(book: &Book, part: PartId, clock: Clock) -> Option<f64> {
    let part = book.parts.get(part)?;
    let stated = part.opening.iter().find(|amount| amount.clock == clock);
    stated.map(|amount| amount.value).or(part.opening_new.then_some(0.0))
}

/// A part's use since it was new: in the book, and what its declaration says it had run before. A clock that the
/// declaration leaves out is not known, so the total is "at least"; it is never taken for zero.
///
/// Days and events are counted as the declaration counts them: they are added to the dates of the book.
#[must_use]
pub fn with_opening(book: &Book, part: PartId, run: &Use, clock: Clock) -> Total {
    let (value, at_least) = run.on(clock);
    let opening = opening(book, part, clock);
    Total { value: value + opening.unwrap_or(0.0), at_least: at_least || opening.is_none(), opening }
}
