//! Load against travel: points, void ones hollow, and the fitted line.
//!
//! Must not know benches.

use super::scale::{PaperScale, Tick, place};
use super::{Table, Words};
use crate::figures::uncertainty;
use serde::Serialize;

/// A point to draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Across.
    pub x: f64,
    /// Up.
    pub y: f64,
    /// Kept, not used.
    pub void: bool,
}

/// The chart.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Plot {
    /// What it says.
    pub words: Words,
    /// What the axes are.
    pub across: String,
    /// The other axis.
    pub up: String,
    /// Ticks across.
    pub x: Vec<Tick>,
    /// Ticks up.
    pub y: Vec<Tick>,
    /// Dots.
    pub dots: Vec<PlotDot>,
    /// The fitted line: x1, y1, x2, y2. Empty without one.
    pub line: Vec<String>,
    /// The numbers.
    pub table: Table,
}

/// A dot.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PlotDot {
    /// Across.
    pub x: String,
    /// Up.
    pub y: String,
    /// Drawn hollow.
    pub hollow: bool,
}

/// Width and height of the paper; the template's `viewBox` has the same.
pub const PAPER: (f64, f64) = (340.0, 190.0);

/// Draws points and the least-squares line through those that count.
#[must_use]
pub fn plot(words: Words, across: &str, up: &str, points: &[Point], table: Table) -> Plot {
    let points: Vec<Point> =
        points.iter().copied().filter(|point| point.x.is_finite() && point.y.is_finite()).collect();
    let all = |of: fn(&Point) -> f64| points.iter().map(of).chain([0.0]);
    let x = PaperScale::over(all(|point| point.x), 46.0, 328.0, 5);
    let y = PaperScale::over(all(|point| point.y), 150.0, 24.0, 4);
    let counts: Vec<&Point> = points.iter().filter(|point| !point.void).collect();
    let xs: Vec<f64> = counts.iter().map(|point| point.x).collect();
    let ys: Vec<f64> = counts.iter().map(|point| point.y).collect();
    let ends = |of: &[f64]| {
        let least = of.iter().copied().fold(f64::INFINITY, f64::min);
        (least, of.iter().copied().fold(f64::NEG_INFINITY, f64::max))
    };
    let line = uncertainty::line(&xs, &ys).map_or_else(Vec::new, |fit| {
        let (from, to) = ends(&xs);
        [from, to].iter().flat_map(|at| [x.place(*at), y.place(fit.intercept + fit.slope * at)]).collect()
    });
    Plot {
        words,
        across: across.to_owned(),
        up: up.to_owned(),
        x: x.ticks(),
        y: y.ticks(),
        dots: points
            .iter()
            .map(|point| PlotDot { x: place(x.at(point.x)), y: place(y.at(point.y)), hollow: point.void })
            .collect(),
        line,
        table,
    }
}
