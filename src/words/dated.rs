//! Whether an item that is good until a day is good when it is asked about, in words: of a day, and of all the days of an event.
//!
//! Must not know how its day is counted, nor who shows it.

use jiff::civil::Date;

/// What an item is to be good for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GoodFor {
    /// A day.
    Day(Date),
    /// An event, from its first day to its last.
    Event([Date; 2]),
}

/// When an item ends that is not good all of that.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ends {
    /// Before the day.
    Over,
    /// Before the first day of the event.
    BeforeEvent,
    /// On one of the days of the event, and not on the last.
    DuringEvent,
}

impl GoodFor {
    /// When an item ends whose last good day is known; `None` where it is good all of that time.
    #[must_use]
    pub fn ends(self, last_good: Date) -> Option<Ends> {
        match self {
            Self::Day(day) => (last_good < day).then_some(Ends::Over),
            Self::Event([first, _]) if last_good < first => Some(Ends::BeforeEvent),
            Self::Event([_, last]) => (last_good < last).then_some(Ends::DuringEvent),
        }
    }
}

impl Ends {
    /// "over", "ends before the event", "ends during the event".
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Over => "over",
            Self::BeforeEvent => "ends before the event",
            Self::DuringEvent => "ends during the event",
        }
    }
}

/// What stands beside a part of which nobody knows whether it is still where it was put.
pub const MAY_BE_OFF: &str = "a line with a mistake since then may have taken it off";
