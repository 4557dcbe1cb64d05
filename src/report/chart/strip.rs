//! A strip of small pictures over one axis: readings of each cylinder over the engine's hours.
//!
//! Readings of different kinds (hot, cold) are drawn apart and never joined. Must not know engines.

use super::scale::{PaperScale, Tick, place};
use super::{Table, Words, short};
use serde::Serialize;

/// A reading.
#[derive(Debug, Clone, PartialEq)]
pub struct StripReading {
    /// Across: hours.
    pub x: f64,
    /// Up.
    pub y: f64,
    /// Which kind it is of: 0 a filled dot, 1 a hollow one, 2 a hollow square.
    pub kind: u8,
}

/// One lane to draw.
#[derive(Debug, Clone, PartialEq)]
pub struct StripSeries {
    /// Its name.
    pub name: String,
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
    /// Lines joining readings of one kind, as `x,y x,y`.
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

const LANE: f64 = 56.0;
/// Width of the paper; the template's `viewBox` has the same.
pub const WIDTH: f64 = 340.0;

/// Draws it: all lanes by one scale, from nothing up.
#[must_use]
pub fn strip(words: Words, across: &str, unit: &str, lanes: &[StripSeries], table: Table) -> Strip {
    let readings = || lanes.iter().flat_map(|lane| &lane.readings);
    let x = PaperScale::over(readings().map(|one| one.x), 72.0, WIDTH - 14.0, 4);
    let up = |from: f64, to: f64| PaperScale::over(readings().map(|one| one.y).chain([0.0]), from, to, 2);
    let foot = 8.0 + LANE * lanes.len() as f64;
    let drawn = lanes.iter().enumerate().map(|(at, lane)| {
        let top = 8.0 + LANE * at as f64;
        let (high, floor) = (top + 8.0, top + LANE - 8.0);
        let y = up(floor, high);
        let text =
            |value: f64| format!("{} {unit}", crate::report::words::amount(value, 3)).trim().to_owned();
        let lines = (0..3u8).filter_map(|kind| {
            let of =
                lane.readings.iter().filter(|one| one.kind == kind && one.x.is_finite() && one.y.is_finite());
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
        table,
    }
}
