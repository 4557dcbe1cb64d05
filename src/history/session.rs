//! One session of one car, or a leg of one.
//!
//! Must not know how it is worked out.

use crate::book::entry::{EntryId, RunId};
use crate::book::model::{CarId, EventId, PersonId};
use crate::history::rank::Rank;
use crate::source::Span;
use jiff::civil::Date;

/// One session of one car.
#[derive(Debug, Clone)]
pub struct Session {
    /// The car.
    pub car: CarId,
    /// The event, if it belongs to one.
    pub event: Option<EventId>,
    /// It belongs to one that nobody can read.
    pub event_lost: bool,
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
    /// The moment during it: as it began, or behind what was done at the last of its stops.
    pub during: Rank,
    /// Start, minutes since the epoch.
    pub start: i32,
    /// End; the start where neither an end nor minutes are known.
    pub end: i32,
    /// Calendar date it started on.
    pub date: Date,
    /// Calendar date it ended on: another where it went past midnight. It is judged on each of its days.
    pub last: Date,
    /// Running minutes, typed or from the clock; of stages those of the stages.
    pub minutes: Option<f64>,
    /// Minutes that it ran for certain, where not all of them are known: those of its stints or stages that tell theirs. See
    /// [`Self::least_minutes`].
    pub known: f64,
    /// It drove on the road between its stages, which nobody timed: its minutes are the least that it ran.
    pub untimed: bool,
    /// Laps, typed or counted.
    pub laps: Option<u32>,
    /// Best lap, typed or the least listed; seconds.
    pub best: Option<f64>,
    /// Metres, typed or laps by the circuit's length.
    pub distance: Option<f64>,
    /// It was laps of a circuit: none of its distance is a stage's.
    pub lapped: bool,
    /// Standing starts.
    pub launches: Option<u32>,
    /// Heat cycles of its tyres.
    pub heat_cycles: u32,
    /// Who drove all of it: by its own line, or every stint; see [`super::sessions::Sessions::drivers`].
    pub driver: Option<PersonId>,
    /// Metres of road, driven and not timed: none but where it is stated; `None` of a leg where it cannot be told.
    pub road: Option<f64>,
    /// Of a leg which of its session's, from 0; a session that is whole is its own first.
    pub leg: u32,
    /// Of a leg the laps that its session ran before it.
    pub laps_before: Option<u32>,
}

impl Session {
    /// The dates it ran on: of one that went past midnight, each of them.
    pub fn days(&self) -> impl Iterator<Item = Date> + use<> {
        let last = self.last;
        std::iter::successors(Some(self.date), move |day| day.tomorrow().ok().filter(|day| *day <= last))
    }

    /// The least minutes that it ran.
    #[must_use]
    pub fn least_minutes(&self) -> f64 {
        self.minutes.unwrap_or(self.known)
    }

    /// Whole seconds of running, for what must be exact.
    #[must_use]
    pub fn seconds(&self) -> Option<u64> {
        self.minutes.map(|minutes| libm::round(minutes.max(0.0) * 60.0) as u64)
    }

    /// Metres driven, at speed and on the road.
    #[must_use]
    pub fn driven(&self) -> Option<f64> {
        self.distance.zip(self.road).map(|(timed, road)| timed + road)
    }

    /// Metres of stages: at speed, and no laps of a circuit.
    #[must_use]
    pub fn staged(&self) -> Option<f64> {
        if self.lapped { Some(0.0) } else { self.distance }
    }

    /// Metres driven as far as they are known: the road of a session whose distance at speed is not.
    #[must_use]
    pub fn driven_least(&self) -> f64 {
        self.distance.unwrap_or(0.0) + self.road.unwrap_or(0.0)
    }

    /// The minutes of all of its running; `None` where the road between its stages was not timed.
    #[must_use]
    pub fn all_minutes(&self) -> Option<f64> {
        self.minutes.filter(|_| !self.untimed)
    }

    /// Whole millimetres driven, at speed and on the road, for what must be exact.
    #[must_use]
    pub fn millimetres(&self) -> Option<u64> {
        self.driven().map(|metres| libm::round(metres.max(0.0) * 1000.0) as u64)
    }
}
