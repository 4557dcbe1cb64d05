//! What drivers drove as readings for a rule: each stint with what its driver drove right before it, each driver's day. What nobody is
//! written to have driven any of them may have.
//!
//! Must not know limits.

use super::Scrutiny;
use super::driven::{self, Driven, DriverDay};
use super::known::{Bound, Missed, Open, Reading, Value};
use crate::book::entry::{EntryId, Verb};
use crate::book::model::{CarId, EventId, PersonId};
use crate::book::place::Place;
use crate::figures::Missing;
use crate::history::sessions::SessionId;
use crate::units::DimensionId;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// What is not told of some sessions: the last of them, and the most minutes that it may be.
type Untold = (EntryId, Option<f64>);

/// Somebody who drives on.
struct Going {
    driver: PersonId,
    /// The line of his last stint.
    line: EntryId,
    /// Minutes so far, where nobody else drove in between.
    minutes: f64,
    /// Minutes so far for certain.
    least: f64,
    /// When his last stint was over, where that is known.
    end: Option<i32>,
}

impl Scrutiny<'_> {
    /// The readings of a car.
    pub(super) fn driven(&self, car: CarId, what: Driven, all: &mut Vec<Reading>) {
        match what {
            Driven::Stint => self.stints(car, all),
            Driven::Day => self.days(car, all),
            Driven::Session => {
                for (id, _) in self.history.sessions.of(car) {
                    self.together(&[id], all);
                }
            }
            Driven::Event => {
                let mut events: BTreeMap<EventId, Vec<SessionId>> = BTreeMap::new();
                for (id, session) in self.history.sessions.of(car) {
                    // What is of no event is held to no event's limit.
                    if let Some(event) = session.event {
                        events.entry(event).or_default().push(id);
                    }
                }
                for sessions in events.values() {
                    self.together(sessions, all);
                }
            }
        }
    }

    /// A session that is not divided is one stint.
    fn stints(&self, car: CarId, all: &mut Vec<Reading>) {
        for (id, session) in self.history.sessions.of(car) {
            let more = driven::untold(self.book, self.history, id);
            let untold = (more != Some(0.0)).then_some((session.entry, more));
            let before = all.len();
            let mut longest: Option<Going> = None;
            for (entry, driver, minutes) in self.history.sessions.drives(id) {
                let stage = self.book.entries.get(entry).is_some_and(|line| line.verb == Verb::Stage);
                let Some((driver, minutes)) = driver.zip(minutes).filter(|_| !stage) else {
                    longest = None;
                    continue;
                };
                // Where it stands by its own time; where it would come to by what stands above is of no use where something is missing.
                let pinned = self.book.entries.get(entry).is_some_and(|line| line.clock.0 >= 0);
                let drove = self.history.sessions.drove(&self.history.order, id, entry);
                let was = drove.filter(|_| pinned);
                // Who goes on behind a stop without another at the wheel goes on driving.
                let going = longest.filter(|going| going.driver == driver);
                let so_far = going.as_ref().map_or(0.0, |going| going.minutes);
                // With a hole in the session he may have been out between, but where the clock leaves none: this one is the least it was.
                let on = |going: &Going| {
                    let (end, start) = (going.end?, was?.0);
                    let stood = self.stood(id, going.line, entry)?;
                    (f64::from(start - end) - stood <= 0.0).then_some(going.least)
                };
                let least = minutes
                    + if untold.is_some() { going.as_ref().and_then(on).unwrap_or(0.0) } else { so_far };
                let most = untold.map(|(run, more)| (run, more.map(|more| more + so_far + minutes - least)));
                all.push(self.drive(entry, None, Some(least), most));
                let (minutes, end) = (so_far + minutes, was.map(|(_, end)| end));
                longest = Some(Going { driver, line: entry, minutes, least, end });
            }
            if all.len() == before && untold.is_some() {
                all.push(self.drive(session.entry, None, None, untold));
            }
        }
    }

    /// How long the car stood between two stints by the stops between them; `None` where one does not say when it was.
    fn stood(&self, id: SessionId, before: EntryId, after: EntryId) -> Option<f64> {
        let stops = self.history.sessions.parts(id).iter().filter(|part| !part.runs());
        let between = stops.filter(|part| before < part.entry && part.entry < after);
        between.map(|stop| stop.was.map(|(start, end)| f64::from(end - start))).sum()
    }

    fn days(&self, car: CarId, all: &mut Vec<Reading>) {
        let sessions = self.history.sessions.of_car.get(car).map_or(&[][..], Vec::as_slice);
        let mut untold: BTreeMap<Date, Untold> = BTreeMap::new();
        for (id, session) in self.history.sessions.of(car) {
            let more = driven::untold(self.book, self.history, id);
            if more == Some(0.0) {
                continue;
            }
            for date in driven::days_of(self.book, self.history, id) {
                let day = untold.entry(date).or_insert((session.entry, Some(0.0)));
                *day = (session.entry, day.1.zip(more).map(|(day, more)| day + more));
            }
        }
        let days = DriverDay::of(self.book, self.history, sessions);
        for (date, day) in &untold {
            if !days.iter().any(|one| one.date == *date) {
                all.push(self.drive(day.0, Some(*date), None, Some(*day)));
            }
        }
        for day in days {
            let mut more = untold.get(&day.date).copied();
            if day.split > 0.0 {
                let run = self.book.entries.get(day.last).and_then(|line| self.book.session_above(line));
                let (run, most) = more.unwrap_or((run.unwrap_or(day.last), Some(0.0)));
                more = Some((run, most.map(|most| most + day.split)));
            } else if day.at_least && more.is_none() {
                let run = self.book.entries.get(day.last).and_then(|line| self.book.session_above(line));
                more = Some((run.unwrap_or(day.last), None));
            }
            all.push(self.drive(day.last, Some(day.date), Some(day.minutes), more));
        }
    }

    /// What each driver drove in some sessions together, whatever day it was: midnight cuts nothing.
    fn together(&self, sessions: &[SessionId], all: &mut Vec<Reading>) {
        let mut drove: BTreeMap<PersonId, (f64, bool, EntryId)> = BTreeMap::new();
        let mut untold: Option<Untold> = None;
        for id in sessions {
            let run = self.history.sessions.get(*id).entry;
            let more = driven::untold(self.book, self.history, *id);
            if more != Some(0.0) {
                let before = untold.map_or(Some(0.0), |(_, before)| before);
                untold = Some((run, before.zip(more).map(|(before, more)| before + more)));
            }
            for (entry, driver, minutes) in self.history.sessions.drives(*id) {
                let Some(driver) = driver else { continue };
                let own = drove.entry(driver).or_insert((0.0, false, entry));
                *own = (own.0 + minutes.unwrap_or(0.0), own.1 || minutes.is_none(), entry);
            }
        }
        if let Some((run, _)) = untold.filter(|_| drove.is_empty()) {
            all.push(self.drive(run, None, None, untold));
        }
        for (minutes, open, last) in drove.into_values() {
            let run = self.book.entries.get(last).and_then(|line| self.book.session_above(line));
            let more = if open && untold.is_none() { Some((run.unwrap_or(last), None)) } else { untold };
            all.push(self.drive(last, None, Some(minutes), more));
        }
    }

    /// What somebody drove by a line; `None` of minutes where nothing is known.
    fn drive(
        &self,
        entry: EntryId,
        day: Option<Date>,
        minutes: Option<f64>,
        untold: Option<Untold>,
    ) -> Reading {
        let least = minutes.unwrap_or(0.0);
        let bound = if untold.is_some() { Bound::AtLeast } else { Bound::Just };
        let open = untold.map(|(run, more)| Open {
            missed: Missed { run, why: Missing::one("who drove how long of it") },
            most: more.map(|more| driven(least + more, Bound::AtMost)),
        });
        let reading = self.reading(Some(entry), vec![driven(least, bound)], false);
        Reading { driven: true, open, date: day.or(reading.date), ..reading }
    }
}

/// So many minutes.
fn driven(minutes: f64, bound: Bound) -> Value {
    Value {
        place: Place::CAR,
        si: minutes * 60.0,
        as_typed: minutes * 60.0,
        dimension: DimensionId::TIME,
        error: 0.0,
        unit: None,
        decimals: 0,
        typed: None,
        estimated: None,
        bound,
        line: None,
        number: (1, 1),
        over: None,
    }
}
