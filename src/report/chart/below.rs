//! Rows below the laps of a drawing of runs, on the same axis: what was read of each run, a scale a row.
//!
//! Front is round, rear square; left is filled, right hollow. Must not know what was read.

use super::scale::{PaperScale, Tick, place};
use super::short;
use serde::Serialize;

/// A row to draw.
#[derive(Debug, Clone, PartialEq)]
pub struct BelowSeries {
    /// What was read and its unit: "hot pressure, bar".
    pub name: String,
    /// What was read, run by run; nothing of a run of which nothing was.
    pub readings: Vec<BelowReading>,
}

/// A reading of a run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BelowReading {
    /// Which run.
    pub run: usize,
    /// How much.
    pub value: f64,
    /// Of which corner: LF, RF, LR, RR from 0; none of what is one for the car.
    pub corner: Option<u8>,
}

/// A row as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BelowRow {
    /// What was read and its unit.
    pub name: String,
    /// Where that stands.
    pub head: String,
    /// The two ends of its scale.
    pub y: Vec<Tick>,
    /// What was read.
    pub marks: Vec<BelowMark>,
}

/// A reading as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BelowMark {
    /// Across.
    pub x: String,
    /// Up.
    pub y: String,
    /// 0 a filled dot (left front, or the car), 1 a hollow dot (right front), 2 a filled square (left rear), 3 a hollow square (right rear).
    pub shape: u8,
}

/// Height of a row with its head, and of the head alone.
const ROW: f64 = 58.0;
const HEAD: f64 = 15.0;

/// Letters of a head that have room.
const LETTERS: usize = 44;

/// Draws the rows that have a reading, from a height downwards; and where they end.
#[must_use]
pub fn rows(series: &[BelowSeries], from: f64, step: f64, x: impl Fn(usize) -> f64) -> (Vec<BelowRow>, f64) {
    let mut top = from;
    let mut all = Vec::new();
    for row in series {
        let known = || row.readings.iter().filter(|reading| reading.value.is_finite());
        if known().next().is_none() {
            continue;
        }
        // The more the higher.
        let y = PaperScale::over(known().map(|reading| reading.value), top + ROW - 6.0, top + HEAD + 6.0, 2);
        let ticks = y.ticks();
        let ends = [ticks.first(), ticks.last()].into_iter().flatten();
        let beside = (step / 6.0).min(4.0);
        all.push(BelowRow {
            name: short(&row.name, LETTERS),
            head: place(top + HEAD - 3.0),
            y: ends.map(|tick| Tick { at: tick.at.clone(), text: short(&tick.text, 8) }).collect(),
            marks: known()
                .map(|reading| {
                    let by = match reading.corner {
                        Some(corner) if corner % 2 == 0 => -beside,
                        Some(_) => beside,
                        None => 0.0,
                    };
                    BelowMark {
                        x: place(x(reading.run) + by),
                        y: y.place(reading.value),
                        shape: reading.corner.unwrap_or(0).min(3),
                    }
                })
                .collect(),
        });
        top += ROW;
    }
    (all, top)
}
