//! What things cost, a bar a row: its kinds of cost one after the other, each with its hatching; credits to the left of nothing.
//!
//! Amounts come as exact decimals; here they are only turned into places on the paper, and every number that is shown comes as a text.
//! Must not know what is booked.

use super::hatch::{BAR, hatch};
use super::scale::{PaperScale, Tick, place};
use super::{LETTER, Table, Words, columns, fitting, short};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use serde::Serialize;

/// A row: an event, a car.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StackSeries {
    /// Its name.
    pub name: String,
    /// All of it, as told elsewhere on the page.
    pub total: String,
    /// Its amounts: the kind, as a number into the list of kinds, and how much; less than nothing for a credit.
    pub amounts: Vec<(usize, Decimal)>,
}

/// The chart.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Stack {
    /// What it says.
    pub words: Words,
    /// Height of the paper.
    pub height: String,
    /// Where the rows end.
    pub foot: String,
    /// Where the ticks' words stand.
    pub under: String,
    /// Where nothing stands.
    pub zero: String,
    /// Ticks.
    pub x: Vec<Tick>,
    /// What the axis is: "EUR".
    pub unit: String,
    /// The rows.
    pub rows: Vec<StackRow>,
    /// What the hatchings mean.
    pub key: Vec<StackKey>,
    /// The numbers.
    pub table: Table,
}

/// A row as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct StackRow {
    /// Its name, cut to fit.
    pub name: String,
    /// All of it.
    pub total: String,
    /// Where both stand.
    pub text: String,
    /// Its bars, from left to right of nothing.
    pub bars: Vec<StackBar>,
}

/// A bar as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct StackBar {
    /// Left end.
    pub x: String,
    /// Top.
    pub y: String,
    /// Breadth.
    pub width: String,
    /// Hatching, as a path; empty without any.
    pub hatch: String,
    /// Where its label stands across.
    pub middle: String,
    /// Where it stands down.
    pub text: String,
    /// The kind, or its letter, or nothing.
    pub label: String,
}

/// A hatching and what it means.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct StackKey {
    /// Left end of its block.
    pub x: String,
    /// Top of its block.
    pub y: String,
    /// Where its words stand across.
    pub right: String,
    /// Where its words stand down.
    pub text: String,
    /// The hatching.
    pub hatch: String,
    /// The letter and the kind: "a entries".
    pub name: String,
}

/// Width of the paper; the template's `viewBox` has the same.
pub const WIDTH: f64 = 340.0;
const LEFT: f64 = 18.0;
const RIGHT: f64 = WIDTH - 24.0;
const ROW: f64 = 38.0;
/// Breadth of a block of the key; the template has the same.
const SWATCH: f64 = 26.0;

/// Draws it. Kinds are named in the order of their numbers, `unit` says what the amounts are in.
#[must_use]
pub fn stack(words: Words, unit: &str, kinds: &[&str], rows: &[StackSeries], table: Table) -> Stack {
    let ends = rows.iter().flat_map(|row| {
        let (less, more): (Vec<f64>, Vec<f64>) =
            row.amounts.iter().map(|(_, one)| size(*one)).partition(|one| *one < 0.0);
        [less.iter().sum::<f64>(), more.iter().sum()]
    });
    let x = scale(&ends.collect::<Vec<f64>>());
    let foot = 4.0 + ROW * rows.len() as f64;
    let letter = |kind: usize| char::from(b'a'.saturating_add(kind.min(25) as u8)).to_string();
    let below = foot + 38.0;
    let key = kinds.iter().enumerate().map(|(at, name)| {
        let (left, y) = (2.0 + (at % 2) as f64 * WIDTH / 2.0, below + 21.0 * (at / 2) as f64);
        StackKey {
            x: place(left),
            y: place(y),
            right: place(left + SWATCH + 7.0),
            text: place(y + 13.0),
            hatch: hatch(at, left, y, SWATCH),
            name: short(&format!("{} {name}", letter(at)), 18),
        }
    });
    Stack {
        words,
        height: place(below + 21.0 * kinds.len().div_ceil(2) as f64),
        foot: place(foot),
        under: place(foot + 14.0),
        zero: x.place(0.0),
        x: x.ticks(),
        unit: unit.to_owned(),
        rows: rows
            .iter()
            .enumerate()
            .map(|(at, row)| {
                drawn(row, 4.0 + ROW * at as f64, &x, |kind| {
                    (kinds.get(kind).copied().unwrap_or(""), letter(kind))
                })
            })
            .collect(),
        key: key.collect(),
        table,
    }
}

/// An amount as a length.
fn size(amount: Decimal) -> f64 {
    amount.to_f64().unwrap_or(0.0)
}

/// The scale with as many ticks as have room for their words.
fn scale(values: &[f64]) -> PaperScale {
    // A word stands in the middle under its tick, and within the paper.
    let ends = |word: f64| (LEFT.max(word / 2.0), RIGHT.min(WIDTH - word / 2.0));
    let longest = |scale: &PaperScale| {
        let letters = scale.ticks().iter().map(|tick| columns(&tick.text)).max().unwrap_or(0);
        letters as f64 * LETTER + 4.0
    };
    let over = |wanted: u32| {
        let (from, to) = ends(longest(&PaperScale::about_nothing(values, LEFT, RIGHT, wanted)));
        PaperScale::about_nothing(values, from, to, wanted)
    };
    let fits = |scale: &PaperScale| {
        let word = longest(scale);
        let (from, to) = ends(word);
        word * scale.ticks().len().saturating_sub(1) as f64 <= to - from
    };
    [4, 3, 2].map(over).into_iter().find(fits).unwrap_or_else(|| over(1))
}

fn drawn<'k>(
    row: &StackSeries,
    top: f64,
    x: &PaperScale,
    kind: impl Fn(usize) -> (&'k str, String),
) -> StackRow {
    let y = top + 17.0;
    // How far it reaches on either side so far.
    let (mut less, mut more) = (0.0, 0.0);
    let bars = row.amounts.iter().filter(|(_, amount)| !amount.is_zero()).map(|(at, amount)| {
        let size = size(*amount);
        let side = if size < 0.0 { &mut less } else { &mut more };
        let from = *side;
        *side += size;
        let (from, to) = (x.at(from.min(*side)), x.at(from.max(*side)));
        let (name, letter) = kind(*at);
        StackBar {
            x: place(from),
            y: place(y),
            width: place((to - from).max(0.6)),
            hatch: hatch(*at, from, y, to - from),
            middle: place(f64::midpoint(from, to)),
            text: place(y + BAR - 4.0),
            label: fitting(&[name, &letter], to - from),
        }
    });
    let bars = bars.collect();
    let room = (WIDTH - 4.0) / LETTER;
    let total = short(&row.total, room as usize / 2);
    let name = short(&row.name, (room as usize).saturating_sub(columns(&total) + 2));
    StackRow { name, total, text: place(top + 13.0), bars }
}
