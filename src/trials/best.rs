//! The quickest of a car's runs that can be compared, by circuit, driver and weather, and how the car differs from how it stood in it.
//!
//! Which runs count is what a trial leaves out ([`aside`]); which may be compared is their [`Course`]. A quickest lap is no verdict on a
//! setup: no level or trend of a day is taken off it. Must not know words.

use super::aside::{self, Aside};
use super::course::{self, Course};
use super::meetings;
use super::standings;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::{CarId, CircuitId};
use crate::history::diff::{self, Fate, PartDiff, SlotDiff};
use crate::history::likeness::{self, Likeness};
use crate::history::order::Rank;
use crate::history::sessions::{Session, SessionId};
use crate::history::slots::Register;
use crate::history::{Facts, state::SlotState};
use crate::vocabulary::QuantityId;
use std::collections::{BTreeMap, BTreeSet};

/// The runs of a car at each circuit, in order, each with its course, or why it does not count.
#[derive(Debug, Clone, Default)]
pub struct Comparable {
    at: BTreeMap<CircuitId, Vec<(SessionId, Result<Course, Aside>)>>,
    /// When something was set that the reader may not read.
    hidden: Vec<Rank>,
    /// What the car's book sets at all: one that it only reads is an outcome.
    settings: BTreeSet<QuantityId>,
}

/// A car's runs at a circuit before a moment.
#[derive(Debug, Clone, Default)]
pub struct AtCircuit {
    /// Those that can be compared together, the course of the last run first.
    pub courses: Vec<OnCourse>,
    /// Those that do not count, each with why.
    pub aside: Vec<(SessionId, Aside)>,
}

/// Runs that can be compared.
#[derive(Debug, Clone)]
pub struct OnCourse {
    /// Where and how.
    pub course: Course,
    /// The runs, the quickest first; of two as quick the later.
    pub runs: Vec<SessionId>,
    /// At how many events or days they were.
    pub meetings: usize,
    /// Why the first of them is not told as the best.
    pub refusal: Option<NoBest>,
}

/// Why no run is told as the best.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoBest {
    /// There is one run only: nothing to hold it against.
    OneRun,
    /// Since the first of them something was set that the reader may not read.
    Hidden,
}

/// How a car differs between two moments.
#[derive(Debug, Clone, Default)]
pub struct Differs<'a> {
    /// Settings that stood otherwise.
    pub moved: Vec<SlotDiff<'a>>,
    /// Settings of which nobody can say.
    pub unclear: Vec<SlotDiff<'a>>,
    /// How many settings stood the same.
    pub same: usize,
    /// Places with another part.
    pub parts: Vec<PartDiff>,
}

/// The runs of a car by circuit.
#[must_use]
pub fn comparable(facts: Facts<'_>, car: CarId) -> Comparable {
    let lines = facts.history.order.lines_of(facts.book, car);
    let mut found = Comparable {
        hidden: lines.iter().filter(|(_, line)| is_hidden(facts, *line)).map(|(rank, _)| *rank).collect(),
        settings: standings::settings(facts, car, &lines),
        at: BTreeMap::new(),
    };
    for meeting in meetings::meetings(facts, car) {
        let runs: Vec<&Session> = meeting.iter().map(|id| facts.history.sessions.get(*id)).collect();
        let event = runs.first().and_then(|run| facts.book.events.get(run.event?));
        let Some(circuit) = event.and_then(|event| event.circuit) else { continue };
        let aside = aside::of_runs(facts, &runs, meetings::lines_of(&lines, &runs));
        let courses = runs.iter().zip(aside).map(|(run, aside)| match aside {
            // Of another road it is of another course.
            None | Some(Aside::OtherWay) => course::of_run(facts, run).map_err(Aside::Unknown),
            Some(aside) => Err(aside),
        });
        found.at.entry(circuit).or_default().extend(meeting.iter().copied().zip(courses));
    }
    found
}

/// Whether a line set something that the reader may not read.
fn is_hidden(facts: Facts<'_>, line: EntryId) -> bool {
    let sets = |verb: Verb| matches!(verb, Verb::Set | Verb::Adjust | Verb::Found | Verb::Left);
    let entry = facts.book.entries.get(line);
    facts.history.kept_back.contains(&line) || entry.is_some_and(|entry| entry.withheld && sets(entry.verb))
}

impl Comparable {
    /// The circuits the car ran at, by the order they are declared in.
    pub fn circuits(&self) -> impl Iterator<Item = CircuitId> + '_ {
        self.at.keys().copied()
    }

    /// The runs at a circuit before a moment.
    #[must_use]
    pub fn at(&self, facts: Facts<'_>, circuit: CircuitId, until: Rank) -> AtCircuit {
        let sessions = &facts.history.sessions;
        let mut found = AtCircuit::default();
        let of_circuit = self.at.get(&circuit).map_or(&[][..], Vec::as_slice);
        for (id, course) in of_circuit.iter().filter(|(id, _)| sessions.get(*id).rank < until) {
            match course {
                Err(why) => found.aside.push((*id, why.clone())),
                Ok(course) => match found.courses.iter().position(|known| known.course == *course) {
                    // The course of the last run comes first.
                    Some(index) => {
                        let mut known = found.courses.remove(index);
                        known.runs.push(*id);
                        found.courses.insert(0, known);
                    }
                    None => found.courses.insert(0, OnCourse::new(course.clone(), *id)),
                },
            }
        }
        for on in &mut found.courses {
            self.judge(facts, on, until);
        }
        found
    }

    fn judge(&self, facts: Facts<'_>, on: &mut OnCourse, until: Rank) {
        let sessions = &facts.history.sessions;
        let first = on.runs.first().map_or(until, |id| sessions.get(*id).rank);
        let meetings = on.runs.iter().map(|id| sessions.get(*id)).map(|run| run.event.ok_or(run.date));
        on.meetings = meetings.collect::<BTreeSet<_>>().len();
        let lap = |id: &SessionId| sessions.get(*id).best.unwrap_or(f64::INFINITY);
        on.runs.reverse();
        on.runs.sort_by(|a, b| lap(a).total_cmp(&lap(b)));
        let hidden = self.hidden.iter().any(|rank| *rank >= first && *rank < until);
        on.refusal = match on.runs.len() {
            0 | 1 => Some(NoBest::OneRun),
            _ => hidden.then_some(NoBest::Hidden),
        };
    }

    /// How a car before a moment differs from how it stood in a run.
    #[must_use]
    pub fn differs<'a>(&self, facts: Facts<'a>, car: CarId, run: SessionId, now: Rank) -> Differs<'a> {
        let then = facts.history.sessions.get(run).rank;
        let found = diff::diff(facts, car, then, now);
        let mut differs = Differs { parts: found.parts, ..Differs::default() };
        for slot in found.slots.into_iter().filter(|slot| self.settings.contains(&slot.quantity)) {
            match said(facts, &slot) {
                Likeness::Same => {}
                Likeness::Moved => differs.moved.push(slot),
                Likeness::CannotTell => differs.unclear.push(slot),
            }
        }
        let stands = |slot: &SlotState<'_>| {
            self.settings.contains(&slot.quantity) && slot.held.is(facts.history).is_some()
        };
        let all = facts.on(car, now).slots().into_iter().filter(stands).count();
        differs.same = all.saturating_sub(differs.moved.len() + differs.unclear.len());
        differs
    }

    /// The quickest run that stood otherwise than the quickest of all, among so many that come next.
    #[must_use]
    pub fn next(&self, facts: Facts<'_>, car: CarId, on: &OnCourse) -> Option<SessionId> {
        let (first, others) = on.runs.split_first()?;
        let otherwise = |id: &&SessionId| {
            let rank = facts.history.sessions.get(**id).rank;
            !self.differs(facts, car, *first, rank).moved.is_empty()
        };
        others.iter().take(LOOKED_AT).find(otherwise).copied()
    }
}

/// So many of the quickest are looked at for one that stood otherwise.
const LOOKED_AT: usize = 8;

impl OnCourse {
    fn new(course: Course, run: SessionId) -> Self {
        Self { course, runs: vec![run], meetings: 1, refusal: None }
    }
}

/// What two moments say of a setting.
fn said(facts: Facts<'_>, slot: &SlotDiff<'_>) -> Likeness {
    match slot.fate {
        Fate::PutBack | Fate::SameByGauges | Fate::ReadAgain => Likeness::Same,
        Fate::Unknown => Likeness::CannotTell,
        // What counts from where it stood when the book began stood at nought.
        Fate::FirstStated if slot.from_nought(facts.book).is_some() => {
            let nought = slot.from_nought(facts.book).unwrap_or_default();
            let moved =
                slot.now.is_some_and(|now| now.register() != Register::Unknown && now.value - nought != 0.0);
            if moved { Likeness::Moved } else { Likeness::Same }
        }
        Fate::FirstStated => Likeness::CannotTell,
        Fate::Changed | Fate::ReadsOtherwise => {
            let both = slot.then.zip(slot.then_track).zip(slot.now);
            both.map_or(Likeness::CannotTell, |((then, track), now)| {
                likeness::compare(facts, (then, track), (now, slot.track))
            })
        }
    }
}
