//! What a session was made of: its stints and stages, each with its own minutes and driver, and its stops.
//!
//! Must not know settings or parts.

use super::order::Order;
use crate::book::Book;
use crate::book::entry::{By, EntryId, Run, Stretch, Verb};
use crate::book::model::{CircuitId, PersonId};
use crate::source::Span;

/// A stint, a stage, or a stop.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its line.
    pub entry: EntryId,
    /// `stint`, `stage` or `stop`.
    pub verb: Verb,
    /// Who drove: its own word, else the session's.
    pub driver: Option<PersonId>,
    /// The label of a stage.
    pub label: Option<Span>,
    /// The road that a stage is on.
    pub course: Option<CircuitId>,
    /// Minutes, typed, by its times, or what the others leave of the session's.
    pub minutes: Option<f64>,
    /// Laps typed.
    pub laps: Option<u32>,
    /// Best lap typed, seconds.
    pub best: Option<f64>,
    /// Metres, of a stage.
    pub distance: Option<f64>,
    /// Metres of road to it.
    pub road: f64,
    /// When it began, minutes since the epoch.
    pub start: i32,
    /// When it was over.
    pub end: i32,
    /// From when until when it was, where its times, its minutes and those of the others tell.
    pub was: Option<(i32, i32)>,
}

impl Part {
    /// Whether the car ran in it.
    #[must_use]
    pub fn runs(&self) -> bool {
        self.verb != Verb::Stop
    }
}

/// The parts of a session, in the order of its lines; empty for one that is not divided.
pub(super) fn parts(book: &Book, order: &Order, run: &Run) -> Vec<Part> {
    let driver = |entry: EntryId| match book.entries.get(entry).map(|entry| entry.by) {
        Some(By::Person(person)) => Some(person),
        _ => None,
    };
    let of_run = driver(run.entry);
    let part = |typed: &Stretch| {
        let entry = book.entries.get(typed.entry)?;
        let spell = order.spells.get(&typed.entry).copied();
        let clocked =
            spell.and_then(|spell| spell.clocked).filter(|_| entry.verb != Verb::Stage).map(f64::from);
        let at = order.at.get(typed.entry).copied().unwrap_or_default();
        // Whoever a stint does not name is not known.
        let driver = driver(typed.entry).or(of_run.filter(|_| entry.verb != Verb::Stint));
        Some(Part {
            entry: typed.entry,
            verb: entry.verb,
            driver,
            label: typed.label,
            course: typed.course,
            minutes: typed.minutes.or(clocked),
            laps: typed.laps,
            best: typed.best,
            distance: typed.distance,
            road: typed.road.unwrap_or(0.0),
            start: spell.map_or(at, |spell| spell.start),
            end: spell.map_or(at, |spell| spell.end),
            was: spell.filter(|spell| spell.clocked.is_some()).map(|spell| (spell.start, spell.end)),
        })
    };
    run.stretches.iter().filter_map(part).collect()
}

/// Who drove every stint and stage, where one did.
pub(super) fn only_driver(parts: &[Part]) -> Option<PersonId> {
    let mut drove = parts.iter().filter(|part| part.runs()).map(|part| part.driver);
    let first = drove.next()??;
    drove.all(|driver| driver == Some(first)).then_some(first)
}

/// The sum, where every amount is known.
pub(super) fn sum(amounts: impl Iterator<Item = Option<f64>>) -> Option<f64> {
    amounts.sum()
}

/// Whether a session is divided into both stints and stages: whether a stage was driven in a stint or beside it, nothing says.
#[must_use]
pub fn mixed(parts: &[Part]) -> bool {
    let of = |verb: Verb| parts.iter().any(|part| part.verb == verb);
    of(Verb::Stint) && of(Verb::Stage)
}

/// The running minutes of a session, by its parts; `typed` and `clocked` are what its own line says. One stint of which nothing is
/// known has what the others leave: of the minutes typed, else of those by the clock.
pub(super) fn minutes(parts: &mut [Part], typed: Option<f64>, clocked: Option<f64>) -> Option<f64> {
    let stops = sum(parts.iter().filter(|part| !part.runs()).map(|part| part.minutes));
    let net = || clocked.zip(stops).map(|(clocked, stops)| clocked - stops).filter(|net| *net >= 0.0);
    if parts.iter().all(|part| !part.runs()) {
        return typed.or_else(net);
    }
    if mixed(parts) {
        for part in parts.iter_mut().filter(|part| part.runs()) {
            part.minutes = None;
        }
        return typed;
    }
    // Between stages it drives on the road: the clock says nothing of how long it ran.
    let staged = parts.iter().any(|part| part.verb == Verb::Stage);
    // Minutes typed that are those from its start to its end have its stops in them.
    let stood = stops.is_some_and(|stops| stops > 0.0);
    let gross = stood && typed.zip(clocked).is_some_and(|(typed, clocked)| (typed - clocked).abs() <= 1.0);
    let whole = if staged { typed } else { typed.filter(|_| !gross).or_else(net).or(typed) };
    let known: f64 = parts.iter().filter(|part| part.runs()).filter_map(|part| part.minutes).sum();
    let mut unknown = parts.iter_mut().filter(|part| part.runs() && part.minutes.is_none());
    let Some(first) = unknown.next() else { return Some(known) };
    if unknown.next().is_none() {
        first.minutes = whole.map(|whole| whole - known).filter(|rest| *rest > 0.0);
    }
    whole
}

/// Says when each part was, once their minutes are known. The first begins with the session, each other one when the one above it was over;
/// a time typed in front pins it, and behind one of which nobody knows how long it was the next pin, or the session's end, tells. `pinned`
/// says whether a line begins with a time of its own; `start` and `end` are when the session began and was over, where times tell.
pub(super) fn lay(parts: &mut [Part], pinned: impl Fn(&Part) -> bool, start: Option<i32>, end: Option<i32>) {
    let long = |part: &Part| part.minutes.map(|minutes| libm::ceil(minutes) as i32);
    let mut now = start;
    for part in parts.iter_mut() {
        if let Some((_, end)) = part.was {
            now = Some(end);
            continue;
        }
        let from = if pinned(part) { Some(part.start) } else { now };
        now = from.zip(long(part)).map(|(from, minutes)| from.saturating_add(minutes));
        part.was = from.zip(now);
    }
    let mut next = end;
    for part in parts.iter_mut().rev() {
        if part.was.is_none() && !pinned(part) {
            part.was = next.zip(long(part)).map(|(next, minutes)| (next.saturating_sub(minutes), next));
        }
        next = if pinned(part) { Some(part.start) } else { part.was.map(|(from, _)| from) };
    }
}
