//! Running sums of a car's sessions, so that what it ran between two moments is a difference of two rows and not a walk.
//!
//! Exact: times and distances are summed as whole microseconds and micrometres. A car whose sessions are too odd for that (an
//! amount no such count holds, dates that go back, an event left and come to again) has no sums, and is walked.
//!
//! Must not know parts, limits or statistics.

use super::sessions::{Session, Sessions};
use crate::book::entry::EntryId;
use crate::book::model::{CarId, Clock, EventId};
use crate::history::order::Rank;
use jiff::civil::Date;
use rayon::prelude::*;

/// Millionths: of a second, of a metre.
pub const MILLION: f64 = 1e6;

/// A session's amount beyond this many seconds or metres is not summed.
const MOST: f64 = 1e9;

/// The clocks that are sums over sessions, in the order of a [`Row`].
pub const SUMMED: [Clock; 7] = [
    Clock::Time,
    Clock::Laps,
    Clock::Distance,
    Clock::Sessions,
    Clock::Launches,
    Clock::HeatCycles,
    Clock::StageDistance,
];

/// The clocks that a session may leave unsaid.
pub const UNSAID: [Clock; 4] = [Clock::Time, Clock::Laps, Clock::Distance, Clock::StageDistance];

/// Sums over all sessions before one of them.
#[derive(Debug, Clone, Copy, Default)]
struct Row {
    sums: [u64; SUMMED.len()],
    /// Sessions that do not say, in the order of [`UNSAID`].
    unsaid: [u64; UNSAID.len()],
}

/// One car's running sums.
#[derive(Debug, Clone, Default)]
pub struct Odometer {
    ranks: Vec<Rank>,
    /// One more than there are sessions; empty where there are no sums.
    rows: Vec<Row>,
    /// The same by whole sessions, which legs need not come to. Of a leg that is not the first of its session, that session's is in it.
    wholes: Vec<Row>,
    /// The dates it ran on, each once, in order.
    dates: Vec<Date>,
    /// Its events in order; `None` for sessions outside events.
    events: Vec<Option<EventId>>,
    /// Of each leg, the places of its first and its last day in `dates`, and its place in `events`.
    at: Vec<([u32; 2], u32)>,
    /// Of each leg, the place of the first of its session.
    first: Vec<u32>,
    /// Of each leg, its session.
    entries: Vec<EntryId>,
}

/// What a car ran in some sessions that follow one another.
#[derive(Debug, Clone, Copy)]
pub struct Leg<'a> {
    /// Sums in the order of [`SUMMED`]; times and distances in millionths.
    pub sums: [u64; SUMMED.len()],
    /// Whether some session does not say it, in the order of [`UNSAID`].
    pub unsaid: [bool; UNSAID.len()],
    /// The session of its first leg, and how many heat cycles that was.
    pub first: (EntryId, u64),
    /// The session of its last leg.
    pub last: EntryId,
    /// The dates, each once, in order.
    pub dates: &'a [Date],
    /// The events, each once, in order; `None` for sessions outside events.
    pub events: &'a [Option<EventId>],
}

impl Odometer {
    /// The odometer of every car.
    #[must_use]
    pub fn all(sessions: &Sessions) -> Vec<Self> {
        (0..sessions.of_car.len()).into_par_iter().map(|car| Self::of(sessions, CarId::from(car))).collect()
    }

    fn of(sessions: &Sessions, car: CarId) -> Self {
        let own = || sessions.legs(car);
        let mut made = Self { ranks: own().map(|session| session.rank).collect(), ..Self::default() };
        let (mut row, mut whole) = (Row::default(), Row::default());
        for session in own() {
            made.rows.push(row);
            made.wholes.push(whole);
            let begun = session.leg > 0 || whole.add(sessions.whole(session));
            if !(begun && row.add(session) && made.note(session)) {
                made.rows = Vec::new();
                return made;
            }
        }
        made.rows.push(row);
        made.wholes.push(whole);
        let mut events: Vec<EventId> = made.events.iter().filter_map(|event| *event).collect();
        events.sort_unstable();
        if events.array_windows().any(|[event, next]| event == next) {
            made.rows = Vec::new();
        }
        made
    }

    /// Notes where a session belongs; no where its date goes back, or nobody knows at which event it was.
    fn note(&mut self, session: &Session) -> bool {
        if session.event_lost {
            return false;
        }
        let mut first = None;
        for date in session.days() {
            match self.dates.last() {
                Some(last) if *last > date => return false,
                Some(last) if *last == date => {}
                _ => self.dates.push(date),
            }
            first = first.or(self.dates.len().checked_sub(1));
        }
        let days = [first.unwrap_or_default() as u32, self.dates.len().saturating_sub(1) as u32];
        if self.events.last() != Some(&session.event) {
            self.events.push(session.event);
        }
        let place = self.at.len() as u32;
        let again = session.leg > 0 && self.entries.last() == Some(&session.entry);
        // A leg that stands apart from its session's first would count that session once more.
        if session.leg > 0 && !again {
            return false;
        }
        self.first.push(self.first.last().copied().filter(|_| again).unwrap_or(place));
        self.entries.push(session.entry);
        self.at.push((days, self.events.len() as u32 - 1));
        true
    }

    /// The places of the car's sessions with `from <= rank < until`.
    #[must_use]
    pub fn between(&self, from: Rank, until: Rank) -> std::ops::Range<usize> {
        let first = self.ranks.partition_point(|rank| *rank < from);
        // One that ends before it starts has none.
        first..first.max(self.ranks.partition_point(|rank| *rank < until))
    }

    /// The rank of the session at a place.
    #[must_use]
    pub fn rank(&self, place: usize) -> Option<Rank> {
        self.ranks.get(place).copied()
    }

    /// What it ran at each event before a rank, in order; `None` where there are no sums.
    #[must_use]
    pub fn by_event(&self, until: Rank) -> Option<Vec<(EventId, Leg<'_>)>> {
        let end = self.between(Rank::START, until).end;
        let (mut legs, mut start) = (Vec::new(), 0);
        while start < end {
            let (_, event) = *self.at.get(start)?;
            let next = start + self.at.get(start..end)?.partition_point(|(_, other)| *other <= event);
            let leg = self.leg(start..next)?;
            legs.extend(self.events.get(event as usize)?.map(|event| (event, leg)));
            start = next;
        }
        Some(legs)
    }

    /// The place behind the session of a leg.
    fn behind(&self, place: usize) -> usize {
        let of = |place: &usize| self.first.get(*place) == self.first.get(place.saturating_sub(1));
        (place + 1..self.first.len()).find(|next| !of(next)).unwrap_or(self.first.len())
    }

    /// The sums over those places: whole sessions whole, and of others what their legs come to.
    fn ran(&self, places: std::ops::Range<usize>) -> Option<Row> {
        let begins = |place: usize| self.first.get(place).is_none_or(|first| *first as usize == place);
        let head = if begins(places.start) { places.start } else { self.behind(places.start) };
        let tail = self.first.get(places.end).map_or(places.end, |first| *first as usize);
        if head > tail {
            return self.of_one(places);
        }
        let whole = self.wholes.get(tail)?.since(self.wholes.get(head)?);
        Some(self.of_one(places.start..head)?.and(&whole).and(&self.of_one(tail..places.end)?))
    }

    /// The sums over some legs of one session, up to a stop or from a stop on: what some leg does not say is what the others leave.
    fn of_one(&self, places: std::ops::Range<usize>) -> Option<Row> {
        let mut own = self.rows.get(places.end)?.since(self.rows.get(places.start)?);
        if places.is_empty() {
            return Some(own);
        }
        let (from, to) = (*self.first.get(places.start)? as usize, self.behind(places.start));
        if from < places.start && places.end < to {
            return Some(own);
        }
        let all = self.rows.get(to)?.since(self.rows.get(from)?);
        let whole = self.wholes.get(to)?.since(self.wholes.get(from)?);
        let rest = all.since(&own);
        for (at, sum) in SUM_OF.into_iter().enumerate() {
            let unsaid = |row: &Row| row.unsaid.get(at).copied().unwrap_or(0);
            let [Some(whole_sum), Some(rest_sum)] = [whole.sums.get(sum), rest.sums.get(sum)] else {
                continue;
            };
            if unsaid(&own) > 0
                && unsaid(&rest) == 0
                && unsaid(&whole) == 0
                && let Some(left) = whole_sum.checked_sub(*rest_sum)
                && let (Some(sum), Some(count)) = (own.sums.get_mut(sum), own.unsaid.get_mut(at))
            {
                (*sum, *count) = (left, 0);
            }
        }
        Some(own)
    }

    /// What it ran in those places; `None` where there is nothing, or there are no sums.
    #[must_use]
    pub fn leg(&self, places: std::ops::Range<usize>) -> Option<Leg<'_>> {
        if places.is_empty() {
            return None;
        }
        let ran = self.ran(places.clone())?;
        let last = self.rows.get(places.end)?;
        let (from, to) = (self.at.get(places.start)?, self.at.get(places.end - 1)?);
        // A session counts whole for whatever ran a leg of it: what is of the session is added at its first leg.
        let begun = *self.first.get(places.start)? as usize;
        let (session, next) = (self.rows.get(begun)?, self.rows.get(begun + 1)?);
        let [time, laps, distance, _, launches, _, timed] = ran.sums;
        let [_, _, _, sessions, _, heat_cycles, _] = since(last.sums, session.sums);
        let [_, _, _, _, _, heat, _] = since(next.sums, session.sums);
        Some(Leg {
            sums: [time, laps, distance, sessions, launches, heat_cycles, timed],
            first: (*self.entries.get(places.start)?, heat),
            last: *self.entries.get(places.end - 1)?,
            unsaid: ran.unsaid.map(|count| count > 0),
            dates: self.dates.get(from.0[0] as usize..=to.0[1] as usize)?,
            events: self.events.get(from.1 as usize..=to.1 as usize)?,
        })
    }
}

/// What was gained from one row of numbers to a later one.
fn since<const N: usize>(last: [u64; N], first: [u64; N]) -> [u64; N] {
    let mut first = first.iter();
    last.map(|last| last.saturating_sub(first.next().copied().unwrap_or(last)))
}

/// The place in [`SUMMED`] of each clock of [`UNSAID`].
const SUM_OF: [usize; UNSAID.len()] = [0, 1, 2, 6];

impl Row {
    /// What was gained since an earlier row.
    fn since(&self, first: &Self) -> Self {
        Self { sums: since(self.sums, first.sums), unsaid: since(self.unsaid, first.unsaid) }
    }

    /// Both together.
    fn and(mut self, more: &Self) -> Self {
        let sums = self.sums.iter_mut().zip(more.sums);
        let unsaid = self.unsaid.iter_mut().zip(more.unsaid);
        sums.chain(unsaid).for_each(|(sum, more)| *sum = sum.saturating_add(more));
        self
    }

    /// Adds a session; no where one of its amounts cannot be counted.
    fn add(&mut self, session: &Session) -> bool {
        let seconds = Some(session.least_minutes() * 60.0);
        let amounts = [seconds, Some(session.driven_least()), session.staged()].map(millionths);
        let [Some(time), Some(distance), Some(timed)] = amounts else {
            return false;
        };
        let gains = [
            time,
            u64::from(session.laps.unwrap_or(0)),
            distance,
            u64::from(session.leg == 0),
            u64::from(session.launches.unwrap_or(0)),
            if session.leg == 0 { u64::from(session.heat_cycles) } else { 0 },
            timed,
        ];
        for (sum, gain) in self.sums.iter_mut().zip(gains) {
            let Some(more) = sum.checked_add(gain) else { return false };
            *sum = more;
        }
        let said = [
            session.all_minutes().is_some(),
            session.laps.is_some(),
            session.driven().is_some(),
            session.staged().is_some(),
        ];
        for (unsaid, said) in self.unsaid.iter_mut().zip(said) {
            *unsaid += u64::from(!said);
        }
        true
    }
}

/// In whole millionths, nothing for an amount that is not said; `None` for what is too much, or less than nothing.
fn millionths(amount: Option<f64>) -> Option<u64> {
    let amount = amount.unwrap_or(0.0);
    (0.0..=MOST).contains(&amount).then(|| libm::round(amount * MILLION) as u64)
}
