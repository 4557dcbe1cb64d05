//! Use counted session by session, in the order the sessions ran: what [`super::usage::Use`] counts, without the sets of days and
//! events that reports list, so that twenty thousand parts cost little.
//!
//! Must not know limits or statistics.

use super::sessions::Session;
use crate::book::model::{Clock, EventId};
use jiff::civil::Date;

/// A running count on every clock. Sessions must be added in the order they ran.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Tally {
    used: [f64; Clock::ALL.len()],
    at_least: [bool; Clock::ALL.len()],
    /// The last dates counted, each once, the latest in front. Where events have zones of their own a date may come again after a
    /// later one; of the five dates that the clocks of the world can show about then, one is the date itself.
    days: [Option<Date>; 5],
    events: Vec<EventId>,
}

impl Tally {
    /// Adds a session, or a share of it (1 for the whole). Days and events are never shared: a part that failed on a
    /// day was there on that day.
    pub fn add(&mut self, session: &Session, share: f64) {
        let one = |new: bool| Some(if new { 1.0 } else { 0.0 });
        let new_day = !self.days.contains(&Some(session.date));
        if new_day {
            self.days.rotate_right(1);
            self.days[0] = Some(session.date);
        }
        // Another car's event may lie between two of one's own.
        let new_event = session.event.filter(|event| !self.events.iter().rev().any(|known| known == event));
        self.events.extend(new_event);
        for clock in Clock::ALL {
            let gain = match clock {
                Clock::Time => session.minutes.map(|minutes| minutes * 60.0 * share),
                Clock::Laps => session.laps.map(|laps| libm::round(f64::from(laps) * share)),
                Clock::Distance => session.distance.map(|metres| metres * share),
                Clock::Days => one(new_day),
                Clock::Events => one(new_event.is_some()),
                Clock::Sessions => one(true),
                Clock::Launches => Some(f64::from(session.launches.unwrap_or(0))),
                Clock::HeatCycles => Some(f64::from(session.heat_cycles)),
                Clock::Months => one(false),
            };
            self.used[clock as usize] += gain.unwrap_or(0.0);
            self.at_least[clock as usize] |= gain.is_none();
        }
    }

    /// The amount on one clock (seconds, metres, a count), and whether it is only "at least". Months are calendar time
    /// and not counted here.
    #[must_use]
    pub fn on(&self, clock: Clock) -> (f64, bool) {
        (self.used[clock as usize], self.at_least[clock as usize] || clock == Clock::Months)
    }

    /// Whether anything was added.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.days[0].is_none()
    }
}

/// Calendar months from one date to another; a month that has begun counts by its days.
#[must_use]
pub fn months(from: Date, to: Date) -> f64 {
    let whole = (i32::from(to.year()) - i32::from(from.year())) * 12 + i32::from(to.month())
        - i32::from(from.month());
    f64::from(whole) + (f64::from(to.day()) - f64::from(from.day())) / 31.0
}
