//! What is used of limits, a bar a row, all by one scale: a limit is the tick that every bar is held against.
//!
//! Used is filled, what is expected to come is hatched, what is known only to be at least so much has a broken end and no filling. Every bar
//! has its words above it. Must not know parts, clocks or events.

use super::hatch::hatched;
use super::scale::place;
use super::{Table, Words, columns, short};
use serde::Serialize;

/// A bar to draw: shares of its own limit.
#[derive(Debug, Clone, PartialEq)]
pub struct BarSeries {
    /// What it is of.
    pub name: String,
    /// What it comes to, in words: "177 of 300 min".
    pub told: String,
    /// What is used.
    pub used: f64,
    /// Whether that is the least that it may be.
    pub at_least: bool,
    /// What is expected to come on top; `None` where nobody knows.
    pub more: Option<f64>,
}

/// The drawing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BarsChart {
    /// What it says.
    pub words: Words,
    /// Height of the paper.
    pub height: String,
    /// Where every bar begins.
    pub zero: String,
    /// Where every limit stands.
    pub limit: String,
    /// The bars.
    pub rows: Vec<BarRow>,
    /// What the hatched piece is: "quern-27"; empty where no bar has one.
    pub ahead: String,
    /// Whether a bar is known only to be at least so long.
    pub open: bool,
    /// The numbers.
    pub table: Table,
}

/// A bar as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BarRow {
    /// Its name, cut to fit.
    pub name: String,
    /// Its words, cut to fit.
    pub told: String,
    /// Where both stand.
    pub text: String,
    /// Top of the bar.
    pub y: String,
    /// Top and foot of its limit's tick.
    pub tick: [String; 2],
    /// Breadth of what is used; empty for nothing.
    pub used: String,
    /// Whether that is the least it may be.
    pub at_least: bool,
    /// Where what is to come begins, and its breadth; empty without any.
    pub more: Vec<String>,
    /// Its hatching, as a path.
    pub hatch: String,
    /// Whether the paper ends before the bar does.
    pub beyond: bool,
}

/// Width of the paper; the template's `viewBox` has the same.
pub const WIDTH: f64 = 340.0;
const LEFT: f64 = 2.0;
const LIMIT: f64 = 250.0;
const RIGHT: f64 = 328.0;
const ROW: f64 = 35.0;
/// Height of a bar; the template has the same.
const HIGH: f64 = 10.0;

/// Draws them. `ahead` names what is expected to come.
#[must_use]
pub fn bars(words: Words, ahead: &str, all: &[BarSeries], table: Table) -> BarsChart {
    let rows: Vec<BarRow> = all.iter().enumerate().map(|(index, one)| row(index, one)).collect();
    BarsChart {
        words,
        height: place(ROW * rows.len() as f64 + 2.0),
        zero: place(LEFT),
        limit: place(LIMIT),
        ahead: if rows.iter().any(|row| !row.more.is_empty()) { ahead.to_owned() } else { String::new() },
        open: rows.iter().any(|row| row.at_least),
        rows,
        table,
    }
}

fn row(index: usize, one: &BarSeries) -> BarRow {
    let top = ROW * index as f64;
    let y = top + 17.0;
    let whole = |share: f64| if share.is_finite() { share.max(0.0) } else { 0.0 };
    let x = |share: f64| LEFT + (LIMIT - LEFT) * whole(share);
    let (used, end) = (x(one.used), x(whole(one.used) + whole(one.more.unwrap_or(0.0))));
    let (left, right) = (used.min(RIGHT), end.min(RIGHT));
    let (filled, coming) = (left - LEFT, right - left);
    // Letters that the words leave to the name.
    let told = short(&one.told, 28);
    let room = 47_usize.saturating_sub(columns(&told) + 1).min(24);
    BarRow {
        name: short(&one.name, room),
        told,
        text: place(top + 12.0),
        y: place(y),
        tick: [place(y - 3.0), place(y + HIGH + 3.0)],
        used: if filled > 0.0 { place(filled) } else { String::new() },
        at_least: one.at_least,
        more: if coming > 0.0 { vec![place(left), place(coming)] } else { Vec::new() },
        hatch: if coming > 0.0 { hatched(1, left, y, (coming, HIGH)) } else { String::new() },
        beyond: end > RIGHT,
    }
}
