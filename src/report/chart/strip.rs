//! A strip of small pictures over one axis: readings of each cylinder over the engine's hours.
//!
//! Readings that were not taken alike are never joined. Must not know engines.

use super::scale::{PaperScale, Tick, place};
use super::{Table, Words, short};
use serde::Serialize;
use std::collections::BTreeSet;

/// A reading.
#[derive(Debug, Clone, PartialEq)]
pub struct StripReading {
    /// Across: hours.
    pub x: f64,
    /// Up.
    pub y: f64,
    /// Which kind it is of: 0 a filled dot, 1 a hollow one, 2 a hollow square.
    pub kind: u8,
    /// Of which thing, and taken how: readings that have both alike are joined.
    pub alike: (usize, u32),
}

/// One lane to draw.
#[derive(Debug, Clone, PartialEq)]
pub struct StripSeries {
    /// Its name.
    pub name: String,
    /// The end that its readings may come to; none where nobody says one.
    pub limit: Option<f64>,
    /// Its readings, in order.
    pub readings: Vec<StripReading>,
}

/// The chart.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Strip {
    /// What it says.
    pub words: Words,
    /// What the axis across is.
    pub across: String,
    /// Height of the paper.
    pub height: String,
    /// Where the axis stands.
    pub foot: String,
    /// Where its ticks' words stand.
    pub under: String,
    /// Ticks across.
    pub x: Vec<Tick>,
    /// The lanes.
    pub lanes: Vec<StripLane>,
    /// What the limits are, in words; empty without any.
    pub limits: String,
    /// The numbers.
    pub table: Table,
}

/// A lane as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct StripLane {
    /// Its name, cut to fit.
    pub name: String,
    /// Where its name stands.
    pub middle: String,
    /// Its floor.
    pub floor: String,
    /// Its ceiling.
    pub top: String,
    /// What the floor stands for.
    pub least: String,
    /// What the ceiling stands for.
    pub most: String,
    /// Where its limit is; empty without one.
    pub limit: String,
    /// Lines joining readings taken alike, as `x,y x,y`.
    pub lines: Vec<String>,
    /// The readings.
    pub dots: Vec<StripDot>,
}

/// A reading as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct StripDot {
    /// Across.
    pub x: String,
    /// Up.
    pub y: String,
    /// Which kind.
    pub kind: u8,
}

const LANE: f64 = 46.0;
/// Width of the paper; the template's `viewBox` has the same.
pub const WIDTH: f64 = 340.0;

/// Draws it: all lanes by one scale, from nothing up to the limit, or as far as readings go beyond it. `limits` says what the limits are.
#[must_use]
pub fn strip(
    words: Words,
    (across, unit): (&str, &str),
    lanes: &[StripSeries],
    limits: &str,
    table: Table,
) -> Strip {
    strip_from(words, (across, unit), lanes, ([None; 2], limits), table)
}

/// The same from a least value up, and as far as a most at least, where they are given.
#[must_use]
pub fn strip_from(
    words: Words,
    (across, unit): (&str, &str),
    lanes: &[StripSeries],
    ([floor, ceiling], limits): ([Option<f64>; 2], &str),
    table: Table,
) -> Strip {
    let readings = || lanes.iter().flat_map(|lane| &lane.readings);
    let x = PaperScale::over(readings().map(|one| one.x), 72.0, WIDTH - 14.0, 4);
    let limit = lanes.iter().filter_map(|lane| lane.limit).filter(|limit| limit.is_finite() && *limit > 0.0);
    let limit = limit.reduce(f64::max);
    let read = readings().map(|one| one.y).filter(|y| y.is_finite());
    let most = limit.into_iter().chain(ceiling).chain(read.clone()).reduce(f64::max);
    let most = most.filter(|most| *most > 0.0 && read.clone().all(|y| y >= 0.0));
    let floor = floor.filter(|floor| floor.is_finite());
    let least = floor.map_or(0.0, |floor| read.clone().fold(floor, f64::min));
    let up = |from: f64, to: f64| match most {
        Some(most) => PaperScale::between(least, most, from, to),
        None => PaperScale::over(read.clone().chain(limit).chain([0.0]), from, to, 2),
    };
    let foot = 8.0 + LANE * lanes.len() as f64;
    let drawn = lanes.iter().enumerate().map(|(at, lane)| {
        let top = 8.0 + LANE * at as f64;
        let (high, floor) = (top + 8.0, top + LANE - 8.0);
        let y = up(floor, high);
        let text =
            |value: f64| format!("{} {unit}", crate::report::words::amount(value, 3)).trim().to_owned();
        let alike: BTreeSet<(usize, u32)> = lane.readings.iter().map(|one| one.alike).collect();
        let lines = alike.into_iter().filter_map(|alike| {
            let of = lane
                .readings
                .iter()
                .filter(|one| one.alike == alike && one.x.is_finite() && one.y.is_finite());
            let places: Vec<String> =
                of.map(|one| format!("{},{}", x.place(one.x), y.place(one.y))).collect();
            (places.len() > 1).then(|| places.join(" "))
        });
        StripLane {
            name: short(&lane.name, 9),
            middle: place(f64::midpoint(high, floor) + 4.0),
            floor: place(floor),
            top: place(high),
            least: text(y.ends().0),
            most: text(y.ends().1),
            limit: lane
                .limit
                .filter(|limit| limit.is_finite())
                .map_or_else(String::new, |limit| y.place(limit)),
            lines: lines.collect(),
            dots: lane
                .readings
                .iter()
                .filter(|one| one.x.is_finite() && one.y.is_finite())
                .map(|one| StripDot { x: x.place(one.x), y: y.place(one.y), kind: one.kind })
                .collect(),
        }
    });
    Strip {
        words,
        across: across.to_owned(),
        height: place(foot + 34.0),
        foot: place(foot),
        under: place(foot + 14.0),
        x: x.ticks(),
        lanes: drawn.collect(),
        limits: limits.to_owned(),
        table,
    }
}
