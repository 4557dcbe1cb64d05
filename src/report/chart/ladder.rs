//! Laps of several events under each other: a lane an event, each by a scale of its own, the quicker the higher, the quickest filled.
//!
//! Laps of two lanes are not to be held against each other: that is why each lane says its own two ends. Must not know events.

use super::scale::{Tick, place};
use super::{LETTER, Table, Words, columns, short};
use serde::Serialize;

/// A session to draw.
#[derive(Debug, Clone, PartialEq)]
pub struct LadderMark {
    /// Its label.
    pub label: String,
    /// Its best lap, s; not finite without one.
    pub lap: f64,
    /// Whether something was changed before it.
    pub changed: bool,
}

/// An event to draw.
#[derive(Debug, Clone, PartialEq)]
pub struct LadderSeries {
    /// Its name.
    pub name: String,
    /// Its quickest lap, in words.
    pub best: String,
    /// The slowest of its sessions' best laps, in words.
    pub slowest: String,
    /// Its sessions, in order.
    pub sessions: Vec<LadderMark>,
}

/// The drawing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LadderChart {
    /// What it says.
    pub words: Words,
    /// Height of the paper.
    pub height: String,
    /// The events.
    pub lanes: Vec<LadderLane>,
    /// The numbers.
    pub table: Table,
}

/// An event as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LadderLane {
    /// Its name, cut to fit.
    pub name: String,
    /// Its quickest lap.
    pub best: String,
    /// Its slowest; empty where all are one.
    pub slowest: String,
    /// Where the quickest stands.
    pub high: String,
    /// Where the slowest stands.
    pub floor: String,
    /// Where its name stands.
    pub middle: String,
    /// Where the labels stand.
    pub under: String,
    /// Where its changes begin.
    pub top: String,
    /// Its laps in order, as `x,y x,y`.
    pub line: String,
    /// Its laps: across, up, and whether it is the quickest.
    pub dots: Vec<(String, String, bool)>,
    /// Where something was changed, across.
    pub turns: Vec<String>,
    /// Labels of sessions, as many as have room.
    pub labels: Vec<Tick>,
}

/// Width of the paper; the template's `viewBox` has the same.
pub const WIDTH: f64 = 340.0;
const LEFT: f64 = 134.0;
const RIGHT: f64 = 336.0;
const LANE: f64 = 60.0;

/// Draws it.
#[must_use]
pub fn ladder(words: Words, events: &[LadderSeries], table: Table) -> LadderChart {
    LadderChart {
        words,
        height: place(LANE * events.len() as f64),
        lanes: events.iter().enumerate().map(|(index, event)| lane(index, event)).collect(),
        table,
    }
}

fn lane(index: usize, event: &LadderSeries) -> LadderLane {
    let top = LANE * index as f64 + 4.0;
    let (high, floor) = (top + 8.0, top + 34.0);
    let step = (RIGHT - LEFT) / event.sessions.len().max(1) as f64;
    let x = |nth: usize| LEFT + step * (nth as f64 + 0.5);
    let laps = || event.sessions.iter().map(|session| session.lap).filter(|lap| lap.is_finite());
    let (best, slowest) = (laps().fold(f64::INFINITY, f64::min), laps().fold(f64::NEG_INFINITY, f64::max));
    let y = |lap: f64| {
        let share = (lap - best) / (slowest - best);
        high + (floor - high) * if share.is_finite() { share } else { 0.0 }
    };
    let quickest = event.sessions.iter().position(|session| session.lap.total_cmp(&best).is_eq());
    let known = || event.sessions.iter().enumerate().filter(|(_, session)| session.lap.is_finite());
    let places: Vec<String> =
        known().map(|(nth, session)| format!("{},{}", place(x(nth)), place(y(session.lap)))).collect();
    let letters = event.sessions.iter().map(|session| columns(&session.label).min(8) + 1).max();
    let every = (letters.unwrap_or(1) as f64 * LETTER / step).ceil().max(1.0) as usize;
    LadderLane {
        name: short(&event.name, 9),
        best: short(&event.best, 8),
        slowest: if slowest > best { short(&event.slowest, 8) } else { String::new() },
        high: place(high),
        floor: place(floor),
        middle: place(f64::midpoint(high, floor) + 4.0),
        under: place(floor + 17.0),
        top: place(top),
        line: if places.len() > 1 { places.join(" ") } else { String::new() },
        dots: known()
            .map(|(nth, session)| (place(x(nth)), place(y(session.lap)), quickest == Some(nth)))
            .collect(),
        turns: event
            .sessions
            .iter()
            .enumerate()
            .filter(|(_, session)| session.changed)
            .map(|(nth, _)| place(x(nth) - step / 2.0))
            .collect(),
        labels: event
            .sessions
            .iter()
            .enumerate()
            .filter(|(nth, session)| nth % every == 0 && !session.label.is_empty())
            .map(|(nth, session)| Tick { at: place(x(nth)), text: short(&session.label, 8) })
            .collect(),
    }
}
