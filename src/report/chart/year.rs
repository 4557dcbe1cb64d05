//! Cars over the days of a season: a row a car, a mark an event, the book's last line across all of them.
//!
//! Marks are told apart by shape, not by colour. Must not know events or cars.

use super::scale::{Tick, place};
use super::{LETTER, Table, Words, columns, short};
use serde::Serialize;

/// What stands on a day of a car's row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum YearMarkKind {
    /// It ran.
    Ran,
    /// It ran, and something failed or it was hit.
    Hurt,
    /// It goes there.
    Ahead,
    /// It was sold: the row ends.
    Sold,
}

/// A car's row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct YearCar {
    /// Its name.
    pub name: String,
    /// Days from the left end, and what stands there.
    pub marks: Vec<(i32, YearMarkKind)>,
}

/// The drawing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct YearChart {
    /// What it says.
    pub words: Words,
    /// Height of the paper.
    pub height: String,
    /// Where the axis stands.
    pub foot: String,
    /// Where the months stand.
    pub under: String,
    /// First days of months.
    pub months: Vec<Tick>,
    /// The book's last line: across, and its date.
    pub last: Tick,
    /// The middle of that date, which stays on the paper.
    pub dated: String,
    /// The cars.
    pub rows: Vec<YearRow>,
    /// The numbers.
    pub table: Table,
}

/// A car as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct YearRow {
    /// Its name, cut to fit.
    pub name: String,
    /// Up.
    pub y: String,
    /// Where its line ends.
    pub end: String,
    /// Marks: across; 0 a filled dot, 1 a crossed square, 2 a hollow dot, 3 the end.
    pub marks: Vec<(String, u8)>,
}

/// Width of the paper; the template's `viewBox` has the same.
const WIDTH: f64 = 340.0;
const LEFT: f64 = 74.0;
const RIGHT: f64 = 330.0;
const TOP: f64 = 30.0;
const ROW: f64 = 19.0;

/// Draws it over so many days. Months are days from the left end with their names, `last` the day of the book's last line.
#[must_use]
pub fn year(
    words: Words,
    days: i32,
    months: &[(i32, String)],
    last: &(i32, String),
    cars: &[YearCar],
    table: Table,
) -> YearChart {
    let days = days.max(1);
    let x = |day: i32| LEFT + (RIGHT - LEFT) * f64::from(day.clamp(0, days)) / f64::from(days);
    let last_text = short(&last.1, 12);
    let foot = TOP + ROW * cars.len().max(1) as f64;
    // Every month has its tick; of names only as many as have room.
    let every = (months.len() as f64 * 24.0 / (RIGHT - LEFT)).ceil().max(1.0) as usize;
    YearChart {
        words,
        height: place(foot + 22.0),
        foot: place(foot),
        under: place(foot + 15.0),
        months: months
            .iter()
            .enumerate()
            .map(|(index, (day, name))| Tick {
                at: place(x(*day)),
                text: if index % every == 0 && x(*day) < RIGHT - 8.0 { name.clone() } else { String::new() },
            })
            .collect(),
        dated: place(x(last.0).min(WIDTH - (columns(&last_text) as f64 * LETTER / 2.0))),
        last: Tick { at: place(x(last.0)), text: last_text },
        rows: cars
            .iter()
            .enumerate()
            .map(|(index, car)| {
                let sold = car.marks.iter().find(|(_, kind)| *kind == YearMarkKind::Sold);
                YearRow {
                    name: short(&car.name, 10),
                    y: place(TOP + ROW * (index as f64 + 0.5)),
                    end: place(sold.map_or(RIGHT, |(day, _)| x(*day))),
                    marks: car.marks.iter().map(|(day, kind)| (place(x(*day)), *kind as u8)).collect(),
                }
            })
            .collect(),
        table,
    }
}
