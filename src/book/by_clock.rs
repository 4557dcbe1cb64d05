//! One thing for every clock.
//!
//! Must not know what it is.

use super::model::Clock;
use std::ops::{Index, IndexMut};

/// One thing for every clock, found by the clock: `used[Clock::Time]`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ByClock<T>([T; Clock::ALL.len()]);

impl<T> ByClock<T> {
    /// What a function gives for each clock.
    #[must_use]
    pub fn of(each: impl FnMut(Clock) -> T) -> Self {
        Self(Clock::ALL.map(each))
    }
}

/// The one of a clock, lent as the list is lent.
macro_rules! of {
    ($list:expr, $clock:expr) => {{
        let ByClock(
            [time, laps, distance, days, events, sessions, launches, heat_cycles, months, stage_distance],
        ) = $list;
        match $clock {
            Clock::Time => time,
            Clock::Laps => laps,
            Clock::Distance => distance,
            Clock::StageDistance => stage_distance,
            Clock::Days => days,
            Clock::Events => events,
            Clock::Sessions => sessions,
            Clock::Launches => launches,
            Clock::HeatCycles => heat_cycles,
            Clock::Months => months,
        }
    }};
}

impl<T> Index<Clock> for ByClock<T> {
    type Output = T;

    fn index(&self, clock: Clock) -> &T {
        of!(self, clock)
    }
}

impl<T> IndexMut<Clock> for ByClock<T> {
    fn index_mut(&mut self, clock: Clock) -> &mut T {
        of!(self, clock)
    }
}
