//! Rates on one line: a row a part, a dot each rate it can have, its tag as a tick, and the range that is asked for as a band over all rows.
//!
//! A dot within the range is filled, one of which nobody can tell is hollow with a point in it. Must not know springs, blades or benches.

use super::scale::{PaperScale, Tick, place};
use super::{LETTER, Table, Words, columns, short};
use serde::Serialize;

/// A rate to draw, in the drawing's unit.
#[derive(Debug, Clone, PartialEq)]
pub struct RateDot {
    /// What stands above it: the hole; empty for none.
    pub label: String,
    /// The rate.
    pub rate: f64,
    /// 95 % half-width of its mean; `None` of one reading.
    pub half_width: Option<f64>,
}

/// How a rate stands to what is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RateStands {
    /// Softer, with all of its half-width.
    Softer,
    /// Within, with all of its half-width.
    Within,
    /// Stiffer, with all of its half-width.
    Stiffer,
    /// Its half-width reaches over an end: nobody can tell.
    Either,
}

impl RateDot {
    /// How it stands to a range.
    #[must_use]
    pub fn against(&self, (low, high): (f64, f64)) -> RateStands {
        let half = self.half_width.filter(|half| half.is_finite()).unwrap_or(0.0);
        if self.rate + half < low {
            RateStands::Softer
        } else if self.rate - half > high {
            RateStands::Stiffer
        } else if self.rate - half >= low && self.rate + half <= high {
            RateStands::Within
        } else {
            RateStands::Either
        }
    }
}

/// A part to draw.
#[derive(Debug, Clone, PartialEq)]
pub struct RateSeries {
    /// Its name.
    pub name: String,
    /// Its rates, softest first.
    pub dots: Vec<RateDot>,
    /// Its tag.
    pub tag: Option<f64>,
}

/// The drawing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RatesChart {
    /// What it says.
    pub words: Words,
    /// Height of the paper.
    pub height: String,
    /// Where the axis stands.
    pub foot: String,
    /// Where its ticks' words stand.
    pub under: String,
    /// Ticks across.
    pub x: Vec<Tick>,
    /// The unit.
    pub unit: String,
    /// Left end and breadth of the range that is asked for; empty without one.
    pub band: Vec<String>,
    /// Whether any part has a tag.
    pub tagged: bool,
    /// Whether of any rate nobody can tell how it stands to what is asked for.
    pub either: bool,
    /// The parts.
    pub rows: Vec<RatesRow>,
    /// The numbers.
    pub table: Table,
}

/// A part as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RatesRow {
    /// Its name, cut to fit.
    pub name: String,
    /// Where its line is.
    pub y: String,
    /// Where its labels stand.
    pub text: String,
    /// Left and right end of its spread; empty of one rate.
    pub spread: Vec<String>,
    /// Left and right ends of the half-widths, as a path.
    pub widths: String,
    /// Its tag; empty without one.
    pub tag: String,
    /// Its rates.
    pub dots: Vec<RateMark>,
}

/// A rate as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RateMark {
    /// Across.
    pub x: String,
    /// What stands above it; empty where it has no room.
    pub label: String,
    /// Whether it is within what is asked for, or nothing is.
    pub answers: bool,
    /// Whether nobody can tell, by its half-width.
    pub either: bool,
}

/// Width of the paper; the template's `viewBox` has the same.
pub const WIDTH: f64 = 340.0;
const LEFT: f64 = 78.0;
const RIGHT: f64 = 312.0;
const ROW: f64 = 30.0;

/// Draws it. `asked` is the softest and the stiffest that is asked for.
#[must_use]
pub fn rates(
    words: Words,
    unit: &str,
    asked: Option<(f64, f64)>,
    all: &[RateSeries],
    table: Table,
) -> RatesChart {
    let ends = all.iter().flat_map(|part| {
        let wide = |dot: &RateDot| [-1.0, 1.0].map(|way| dot.rate + way * dot.half_width.unwrap_or(0.0));
        part.dots.iter().flat_map(wide).chain(part.tag)
    });
    let asked = asked.filter(|(low, high)| low.is_finite() && high.is_finite() && low <= high);
    let asked_ends = asked.iter().flat_map(|(low, high)| [*low, *high]);
    let x = PaperScale::over(ends.chain(asked_ends), LEFT, RIGHT, 4);
    let foot = ROW * all.len() as f64 + 6.0;
    RatesChart {
        words,
        height: place(foot + 32.0),
        foot: place(foot),
        under: place(foot + 14.0),
        x: x.ticks(),
        unit: unit.to_owned(),
        band: asked.map_or_else(Vec::new, |(low, high)| vec![x.place(low), place(x.at(high) - x.at(low))]),
        tagged: all.iter().any(|part| part.tag.is_some_and(f64::is_finite)),
        either: asked.is_some_and(|range| {
            all.iter().flat_map(|part| &part.dots).any(|dot| dot.against(range) == RateStands::Either)
        }),
        rows: all.iter().enumerate().map(|(index, part)| row(index, part, asked, &x)).collect(),
        table,
    }
}

fn row(index: usize, part: &RateSeries, asked: Option<(f64, f64)>, x: &PaperScale) -> RatesRow {
    let y = ROW * index as f64 + 22.0;
    let known: Vec<&RateDot> = part.dots.iter().filter(|dot| dot.rate.is_finite()).collect();
    let at = |dot: &&RateDot| x.at(dot.rate);
    let (low, high) = (
        known.iter().map(at).fold(f64::INFINITY, f64::min),
        known.iter().map(at).fold(f64::NEG_INFINITY, f64::max),
    );
    // A label stands where the one before leaves it room.
    let mut taken = f64::NEG_INFINITY;
    let mut mark = |dot: &&RateDot| {
        let half = columns(&dot.label) as f64 * LETTER / 2.0;
        let here = x.at(dot.rate);
        let room = here - half >= taken && here + half <= WIDTH;
        if room && !dot.label.is_empty() {
            taken = here + half + 2.0;
        }
        RateMark {
            x: place(here),
            label: if room { dot.label.clone() } else { String::new() },
            answers: asked.is_none_or(|range| dot.against(range) == RateStands::Within),
            either: asked.is_some_and(|range| dot.against(range) == RateStands::Either),
        }
    };
    let dots = known.iter().map(&mut mark).collect();
    let widths = known.iter().filter_map(|dot| {
        let half = dot.half_width.filter(|half| half.is_finite() && *half > 0.0)?;
        let (from, to) = (x.place(dot.rate - half), x.place(dot.rate + half));
        let y = place(y);
        Some(format!("M{from} {y}m0 -4v8M{from} {y}H{to}m0 -4v8"))
    });
    RatesRow {
        name: short(&part.name, 10),
        y: place(y),
        text: place(y - 9.0),
        spread: if high > low { vec![place(low), place(high)] } else { Vec::new() },
        widths: widths.collect(),
        tag: part.tag.filter(|tag| tag.is_finite()).map_or_else(String::new, |tag| x.place(tag)),
        dots,
    }
}
