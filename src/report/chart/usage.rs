//! Who was where: a row a place, a bar for each part over the sessions it ran there, so that a change in mid-day shows.
//!
//! The axis counts sessions, not days; one with stops at which something was done leg by leg. A bar is told by its part's name, its spec by its hatching. Must not know cars.

use super::hatch::{BAR, hatch};
use super::scale::place;
use super::{LETTER, Table, Words, columns, fitting, short};
use serde::Serialize;

/// A run of sessions under one name on the axis: an event.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UsageRun {
    /// Its name.
    pub name: String,
    /// How many sessions.
    pub sessions: usize,
}

/// A bar to draw.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UsagePiece {
    /// First session, from 0.
    pub from: usize,
    /// One past its last.
    pub until: usize,
    /// The part.
    pub part: String,
    /// Its spec, as a number into the list of specs.
    pub spec: usize,
    /// It ended by failing.
    pub failed: bool,
}

/// A place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UsageSeries {
    /// Its name.
    pub name: String,
    /// Its bars, in order.
    pub bars: Vec<UsagePiece>,
}

/// The chart.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct UsageChart {
    /// What it says.
    pub words: Words,
    /// Height of the paper.
    pub height: String,
    /// Where the rows end.
    pub foot: String,
    /// Events: where each begins, and its name or number where that fits.
    pub events: Vec<UsageEvent>,
    /// The rows.
    pub rows: Vec<UsageRow>,
    /// What the hatchings mean.
    pub key: Vec<UsageKey>,
    /// Where the key says what the cross is; empty where nothing failed.
    pub cross: String,
    /// The numbers.
    pub table: Table,
}

/// An event on the axis.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct UsageEvent {
    /// Where it begins.
    pub at: String,
    /// Where its words stand.
    pub middle: String,
    /// Its name, or its number, or nothing.
    pub text: String,
}

/// A row as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct UsageRow {
    /// Its name and, for bars too short for their part's name, what their letters stand for.
    pub name: String,
    /// Where that stands.
    pub text: String,
    /// Where the line of an empty place runs.
    pub middle: String,
    /// Where the upright lines of the events run beside its bars, from and to.
    pub from: String,
    /// The end of those.
    pub to: String,
    /// The bars.
    pub bars: Vec<UsageBar>,
}

/// A bar as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct UsageBar {
    /// Left end.
    pub x: String,
    /// Top.
    pub y: String,
    /// Breadth.
    pub width: String,
    /// Hatching, as a path; empty without any.
    pub hatch: String,
    /// Left end of a blank patch under its words, where there is a hatching; empty without one.
    pub patch: String,
    /// Breadth of that.
    pub breadth: String,
    /// Where its words stand across.
    pub middle: String,
    /// Where they stand down.
    pub text: String,
    /// The part's name, or a letter, or nothing.
    pub label: String,
    /// A cross at its end, as a path; empty where it did not fail.
    pub cross: String,
}

/// A hatching and what it means.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct UsageKey {
    /// Top of its block.
    pub y: String,
    /// Where its words stand.
    pub text: String,
    /// The hatching.
    pub hatch: String,
    /// The spec.
    pub name: String,
}

/// Width of the paper; the template's `viewBox` has the same.
pub const WIDTH: f64 = 340.0;
const LEFT: f64 = 2.0;
const RIGHT: f64 = WIDTH - 2.0;
const TOP: f64 = 20.0;
const ROW: f64 = 42.0;
/// So many specs have a hatching of their own.
const HATCHES: usize = 6;

/// Draws it. Specs are named in the order of their numbers; one without a name is not in the key.
#[must_use]
pub fn usage(
    words: Words,
    spans: &[UsageRun],
    rows: &[UsageSeries],
    specs: &[String],
    table: Table,
) -> UsageChart {
    let all: usize = spans.iter().map(|span| span.sessions).sum();
    let wide = (RIGHT - LEFT) / all.max(1) as f64;
    let x = |session: usize| LEFT + wide * session.min(all) as f64;
    let foot = TOP + ROW * rows.len() as f64;
    let mut begins = 0;
    let mut events = Vec::new();
    for (at, span) in spans.iter().enumerate() {
        let (from, to) = (x(begins), x(begins + span.sessions));
        begins += span.sessions;
        events.push(UsageEvent {
            at: place(from),
            middle: place(f64::midpoint(from, to)),
            text: fitting(&[&span.name, &(at + 1).to_string()], to - from),
        });
    }
    let named = specs.iter().take(HATCHES).enumerate().filter(|(_, name)| !name.is_empty());
    let key: Vec<UsageKey> = named
        .enumerate()
        .map(|(line, (at, name))| {
            let y = foot + 4.0 + 21.0 * line as f64;
            let text = place(y + 13.0);
            UsageKey { y: place(y), text, hatch: hatch(at % HATCHES, LEFT, y, 26.0), name: short(name, 42) }
        })
        .collect();
    let below = foot + 4.0 + 21.0 * key.len() as f64;
    let failed = rows.iter().flat_map(|row| &row.bars).any(|bar| bar.failed);
    UsageChart {
        words,
        height: place(below + if failed { 21.0 } else { 0.0 }),
        foot: place(foot),
        events,
        rows: rows.iter().enumerate().map(|(at, row)| drawn(row, TOP + ROW * at as f64, &x)).collect(),
        key,
        cross: if failed { place(below + 13.0) } else { String::new() },
        table,
    }
}

fn drawn(row: &UsageSeries, top: f64, x: &dyn Fn(usize) -> f64) -> UsageRow {
    let y = top + 19.0;
    let mut letters = 'a'..='z';
    let mut said = Vec::new();
    let mut bars = Vec::new();
    for bar in &row.bars {
        let (from, to) = (x(bar.from), x(bar.until));
        let gap = if to - from > 4.0 { 1.0 } else { 0.0 };
        let (from, to) = (from + gap, to - gap);
        let crossed = if bar.failed { 10.0 } else { 0.0 };
        let room = to - from - crossed;
        let mut label = fitting(&[&bar.part], room);
        if label.is_empty() && room >= LETTER + 3.0 {
            label = letters.next().map_or_else(String::new, String::from);
            if !label.is_empty() {
                said.push(format!("{label} is {}", bar.part));
            }
        }
        let hatch = hatch(bar.spec % HATCHES, from, y, to - from);
        let wide = (columns(&label) as f64 * LETTER + 3.0).min(room);
        let middle = f64::midpoint(from, to - crossed);
        let patched = !hatch.is_empty() && !label.is_empty();
        bars.push(UsageBar {
            x: place(from),
            y: place(y),
            width: place((to - from).max(0.6)),
            patch: if patched { place(middle - wide / 2.0) } else { String::new() },
            breadth: if patched { place(wide) } else { String::new() },
            hatch,
            middle: place(middle),
            text: place(y + 13.0),
            label,
            cross: if bar.failed { cross(to, y) } else { String::new() },
        });
    }
    let name = if said.is_empty() { row.name.clone() } else { format!("{} ({})", row.name, said.join(", ")) };
    let (from, to) = (place(y - 2.0), place(y + BAR + 2.0));
    UsageRow { name: short(&name, 46), text: place(top + 13.0), middle: place(y + BAR / 2.0), from, to, bars }
}

/// A cross within a bar's right end.
fn cross(right: f64, y: f64) -> String {
    let (from, to) = ((right - 9.0).max(LEFT), (right - 2.0).max(LEFT + 1.0));
    let (high, low) = (y + 5.0, y + BAR - 5.0);
    let line = |a: f64, b: f64| format!("M{} {}L{} {}", place(from), place(a), place(to), place(b));
    line(high, low) + &line(low, high)
}
