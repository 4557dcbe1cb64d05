//! Use counted session by session or leg by leg, in the order the sessions ran: what [`super::usage::Use`] counts, without the sets of days and
//! events that reports list, so that twenty thousand parts cost little.
//!
//! Must not know limits or statistics.

use super::odometer::{Leg, MILLION, SUMMED, UNSAID};
use super::sessions::Session;
use crate::book::by_clock::ByClock;
use crate::book::entry::EntryId;
use crate::book::loan::UseAway;
use crate::book::model::{Clock, EventId, LifeAmount};
use jiff::civil::Date;

/// A running count on every clock. Sessions must be added in the order they ran.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Tally {
    used: ByClock<f64>,
    at_least: ByClock<bool>,
    /// The last dates counted, each once, the latest in front. Where events have zones of their own a date may come again after a
    /// later one; of the five dates that the clocks of the world can show about then, one is the date itself.
    days: [Option<Date>; 5],
    events: Vec<EventId>,
    /// Something was added that no session of the book knows.
    away: bool,
    /// The last session counted.
    last: Option<EntryId>,
}

impl Tally {
    /// Adds a session, as far as it was run. Days and events are never shared: a part that failed on a day was there on that day.
    pub fn add(&mut self, session: &Session) {
        for date in session.days() {
            self.day(date);
        }
        if let Some(event) = session.event {
            self.event(event);
        }
        self.at_least[Clock::Events] |= session.event_lost;
        self.gain(Clock::Time, Some(session.least_minutes() * 60.0));
        self.at_least[Clock::Time] |= session.all_minutes().is_none();
        self.gain(Clock::Laps, session.laps.map(f64::from));
        self.gain(Clock::Distance, Some(session.driven_least()));
        self.at_least[Clock::Distance] |= session.driven().is_none();
        self.gain(Clock::StageDistance, session.staged());
        // A run of which no starts are stated had none that count.
        self.used[Clock::Launches] += f64::from(session.launches.unwrap_or(0));
        // Two legs are one session.
        if self.last != Some(session.entry) {
            self.used[Clock::Sessions] += 1.0;
            self.used[Clock::HeatCycles] += f64::from(session.heat_cycles);
        }
        self.last = Some(session.entry);
    }

    /// Adds what a part ran where the book has no sessions of it; what nobody said of a clock makes it "at least".
    pub fn add_away(&mut self, ran: Option<&UseAway>) {
        let stated: &[LifeAmount] = match ran {
            Some(UseAway::Unused) => return,
            Some(UseAway::Ran(amounts)) => amounts,
            Some(UseAway::Unsaid) | None => &[],
        };
        self.away = true;
        for clock in Clock::ALL.into_iter().filter(|clock| *clock != Clock::Months) {
            let amount = stated.iter().find(|amount| amount.clock == clock);
            self.gain(clock, amount.map(|amount| amount.value));
        }
    }

    /// It may have run more, on every clock: nobody knows.
    pub fn unsure(&mut self) {
        for clock in Clock::ALL.into_iter().filter(|clock| *clock != Clock::Months) {
            self.at_least[clock] = true;
        }
    }

    /// Adds sessions of one car that follow one another, as [`Self::add`] would one by one.
    pub fn add_leg(&mut self, leg: Leg<'_>) {
        // A date may be known from another car's sessions; of the dates of one car that follow only the first few can be.
        let (near, far) = leg.dates.split_at(leg.dates.len().min(self.days.len()));
        for date in near {
            self.day(*date);
        }
        for date in far.iter().skip(far.len().saturating_sub(self.days.len())) {
            self.latest(*date);
        }
        self.used[Clock::Days] += far.len() as f64;
        if self.events.is_empty() {
            self.events.extend(leg.events.iter().flatten());
            self.used[Clock::Events] += self.events.len() as f64;
        } else {
            leg.events.iter().flatten().for_each(|event| self.event(*event));
        }
        for (clock, sum) in SUMMED.into_iter().zip(leg.sums) {
            let millionths = matches!(clock, Clock::Time | Clock::Distance | Clock::StageDistance);
            self.used[clock] += sum as f64 / if millionths { MILLION } else { 1.0 };
        }
        if self.last == Some(leg.first.0) {
            self.used[Clock::Sessions] -= 1.0;
            self.used[Clock::HeatCycles] -= leg.first.1 as f64;
        }
        self.last = Some(leg.last);
        for (clock, unsaid) in UNSAID.into_iter().zip(leg.unsaid) {
            self.at_least[clock] |= unsaid;
        }
    }

    fn day(&mut self, date: Date) {
        if self.days[0] != Some(date) && !self.days.contains(&Some(date)) {
            self.latest(date);
            self.used[Clock::Days] += 1.0;
        }
    }

    fn latest(&mut self, date: Date) {
        self.days.rotate_right(1);
        self.days[0] = Some(date);
    }

    fn event(&mut self, event: EventId) {
        // Another car's event may lie between two of one's own.
        if !self.events.iter().rev().any(|known| *known == event) {
            self.events.push(event);
            self.used[Clock::Events] += 1.0;
        }
    }

    fn gain(&mut self, clock: Clock, gain: Option<f64>) {
        self.used[clock] += gain.unwrap_or(0.0);
        self.at_least[clock] |= gain.is_none();
    }

    /// The amount on one clock (seconds, metres, a count), and whether it is only "at least". Months are calendar time
    /// and not counted here.
    #[must_use]
    pub fn on(&self, clock: Clock) -> (f64, bool) {
        (self.used[clock], self.at_least[clock] || clock == Clock::Months)
    }

    /// Whether anything was added.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.days[0].is_none() && !self.away
    }
}

/// Calendar months from one date to another; a month that has begun counts by its days.
#[must_use]
pub fn months(from: Date, to: Date) -> f64 {
    let whole = (i32::from(to.year()) - i32::from(from.year())) * 12 + i32::from(to.month())
        - i32::from(from.month());
    f64::from(whole) + (f64::from(to.day()) - f64::from(from.day())) / 31.0
}
