//! How far settings were found from where they were left, in gauge widths; within one of them it is the same.
//!
//! Must not know settings.

use super::scale::{PaperScale, Tick, place};
use super::{Table, Words, short};
use crate::history::likeness::{self, Likeness};
use serde::Serialize;

/// One row: a name and how far off each time.
#[derive(Debug, Clone, PartialEq)]
pub struct DriftSeries {
    /// "camber RF".
    pub name: String,
    /// Found less left, in gauge widths, in order.
    pub widths: Vec<f64>,
}

/// The chart.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DriftChart {
    /// What it says.
    pub words: Words,
    /// Height of the paper.
    pub height: String,
    /// Where the axis stands.
    pub foot: String,
    /// Where its ticks' words stand.
    pub under: String,
    /// Where nothing moved.
    pub zero: String,
    /// Left end, breadth and height of the band of one width either way.
    pub band: [String; 3],
    /// Ticks.
    pub x: Vec<Tick>,
    /// Rows.
    pub lanes: Vec<DriftLane>,
    /// The numbers.
    pub table: Table,
}

/// A row as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DriftLane {
    /// Its name, cut to fit.
    pub name: String,
    /// Height of its dots.
    pub y: String,
    /// Where its name stands.
    pub text: String,
    /// Dots: across, and whether beyond the band.
    pub dots: Vec<(String, bool)>,
}

const LANE: f64 = 18.0;
/// Width of the paper; the template's `viewBox` has the same.
pub const WIDTH: f64 = 340.0;
/// Within so many gauge widths it is the same.
pub const SAME: f64 = 1.0;

/// Whether so many gauge widths are more than what counts as the same.
#[must_use]
pub fn beyond(widths: f64) -> bool {
    likeness::within(widths, SAME) == Likeness::Moved
}

/// Draws it.
#[must_use]
pub fn drift(words: Words, lanes: &[DriftSeries], table: Table) -> DriftChart {
    let all = lanes.iter().flat_map(|lane| lane.widths.iter().copied());
    let x = PaperScale::over(all.chain([-3.0, 3.0]), 118.0, WIDTH - 16.0, 4);
    let foot = 10.0 + LANE * lanes.len() as f64;
    let (from, to) = (x.at(-SAME), x.at(SAME));
    DriftChart {
        words,
        height: place(foot + 34.0),
        foot: place(foot),
        under: place(foot + 14.0),
        zero: x.place(0.0),
        band: [place(from), place(to - from), place(foot - 10.0)],
        x: x.ticks(),
        lanes: lanes
            .iter()
            .enumerate()
            .map(|(at, lane)| {
                let y = 10.0 + LANE * (at as f64 + 0.5);
                DriftLane {
                    name: short(&lane.name, 17),
                    y: place(y),
                    text: place(y + 4.0),
                    dots: lane
                        .widths
                        .iter()
                        .filter(|one| one.is_finite())
                        .map(|one| (x.place(*one), beyond(*one)))
                        .collect(),
                }
            })
            .collect(),
        table,
    }
}
