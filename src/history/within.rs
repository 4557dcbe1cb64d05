//! When the parts of a session were: its stints, stages and stops, by their times and minutes and by the order of their lines.
//!
//! The rule. The first begins with the session, each other one when the one above it was over; a time typed in front pins it. Times lie
//! within the session's own and run forward; one that does not is said, and its line stands where it is typed. Must not know blocks.

use super::time::{Face, Zone};
use crate::book::dates::Offsets;
use crate::book::entry::EntryId;
use jiff::civil::Date;

/// A part of a session, or a note in it, that reaches further ahead than this many minutes is in none whose end is not known.
const FURTHEST: i32 = 1440;

/// A session as its parts are read.
#[derive(Debug, Clone, Copy)]
pub(super) struct Within {
    /// Its line.
    pub run: EntryId,
    /// When it began.
    pub start: i32,
    /// When it was over, where that is known.
    pub end: Option<i32>,
    /// From when on it reaches so far: its start, where a time tells it, else the first time in it.
    from: Option<i32>,
    /// The moment that its parts have come to.
    pub now: i32,
    /// How many of its parts were read.
    pub read: usize,
    /// The last part with a time.
    pub last: Option<EntryId>,
}

/// When a part of a session was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spell {
    /// Its start, minutes since the epoch.
    pub start: i32,
    /// Its end; the start where that is not known.
    pub end: i32,
    /// How long it was by its two times.
    pub clocked: Option<i32>,
}

/// Why a time is none of the session's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wrong {
    /// The clock skips it on that date.
    Skipped(Date),
    /// Its offset is none that the zone has on that date.
    Elsewhere(Date),
    /// It is before the end of the part above: the instant it would be.
    Back(i32),
    /// The end is not after its own start.
    EndsFirst,
    /// It is before the session, or after it.
    Outside,
}

/// One of the two times of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Edge {
    /// The first.
    Start,
    /// The second.
    End,
}

impl Within {
    /// The session of a line that begins and ends so; `timed` says whether a time tells its start.
    pub fn of(run: EntryId, start: i32, end: i32, timed: bool) -> Self {
        let end = Some(end).filter(|end| *end > start);
        Self { run, start, end, from: timed.then_some(start), now: start, read: 0, last: None }
    }

    fn until(&self) -> i32 {
        self.end.unwrap_or(self.from.unwrap_or(self.now).saturating_add(FURTHEST))
    }

    /// The first instant of a clock face from a moment on, on the date or the next.
    fn instant(
        &self,
        zone: &mut Zone,
        date: Date,
        (clock, offset): (i16, Option<i16>),
        from: i32,
    ) -> Result<i32, Wrong> {
        let next = date.tomorrow().unwrap_or(date);
        let faces = [date, next].map(|date| zone.face(date, clock, offset));
        let [today, tomorrow] = faces;
        let all = faces.map(|face| match face {
            Face::Once(at) => [Some(at), None],
            Face::Twice(first, second) => [Some(first), Some(second)],
            Face::Never | Face::Elsewhere => [None, None],
        });
        let all = || all.into_iter().flatten().flatten();
        if let Some(at) = all().find(|at| (from..=self.until()).contains(at)) {
            return Ok(at);
        }
        if let Some(at) = all().find(|at| (self.start..from).contains(at)) {
            return Err(Wrong::Back(at));
        }
        // Past midnight it is the clock of the next day that skips it.
        let past = self.until() >= zone.day_start(next);
        let days = [(date, today), (next, tomorrow)].into_iter().take(if past { 2 } else { 1 });
        let mut fault = days.filter_map(|(date, face)| match face {
            Face::Never => Some(Wrong::Skipped(date)),
            Face::Elsewhere => Some(Wrong::Elsewhere(date)),
            Face::Once(_) | Face::Twice(..) => None,
        });
        Err(fault.next_back().unwrap_or(Wrong::Outside))
    }

    /// Places a part by its times, if it has any, and its minutes, rounded up. What is wrong with its times stands beside it, and with
    /// which of them.
    pub fn place(
        &mut self,
        zone: &mut Zone,
        date: Date,
        (clock, offsets): ((i16, i16), Offsets),
        minutes: Option<i32>,
    ) -> (Spell, Option<(Wrong, Edge)>) {
        let until = self.until();
        let over = |start: i32| start.saturating_add(minutes.unwrap_or(0)).min(until.max(start));
        let (mut wrong, mut back) = (None, None);
        let mut spell = Spell { start: self.now, end: over(self.now), clocked: None };
        if clock.0 >= 0 {
            match self.instant(zone, date, (clock.0, offsets.0), self.now) {
                Ok(start) => {
                    spell = Spell { start, end: over(start), clocked: None };
                    self.from = self.from.or(Some(start));
                }
                Err(why) => {
                    if let Wrong::Back(at) = why {
                        back = Some(at);
                    }
                    wrong = Some((why, Edge::Start));
                }
            }
        }
        if clock.1 >= 0 && wrong.is_none() {
            match self.instant(zone, date, (clock.1, offsets.1), spell.start.saturating_add(1)) {
                Ok(end) => spell = Spell { end, clocked: Some(end - spell.start), ..spell },
                Err(Wrong::Back(_)) => wrong = Some((Wrong::EndsFirst, Edge::End)),
                Err(why) => wrong = Some((why, Edge::End)),
            }
        }
        // It has been said that it runs back: the next one is held to this one, not to what is above both.
        self.now = match back {
            Some(at) if clock.1 >= 0 => {
                self.instant(zone, date, (clock.1, offsets.1), at.saturating_add(1)).unwrap_or(at)
            }
            Some(at) => at,
            None => self.now.max(spell.end),
        };
        (spell, wrong)
    }

    /// The instant of a note's time, where the session has it; else why not.
    pub fn moment(&self, zone: &mut Zone, date: Date, clock: (i16, Option<i16>)) -> Result<i32, Wrong> {
        self.instant(zone, date, clock, self.start)
    }
}
