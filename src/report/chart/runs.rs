//! Runs of a trial: along the bottom in their order, laps up with the quicker higher, each setting with a mark of its own.
//!
//! Settings are told apart by shape and by letter, not by colour. Must not know trials.

use super::below::{self, BelowRow, BelowSeries};
use super::scale::{PaperScale, Tick, place};
use super::{LETTER, Table, Words, columns, fitting, short};
use crate::words;
use serde::Serialize;

/// A run to draw.
#[derive(Debug, Clone, PartialEq)]
pub struct RunPoint {
    /// Its label.
    pub label: String,
    /// Its lap, s.
    pub lap: f64,
    /// Its setting, 0 for the first.
    pub level: usize,
    /// The setting's letter.
    pub letter: String,
    /// What was set before it, longest wording first; none where nothing was.
    pub change: Vec<String>,
    /// What the driver said.
    pub words: String,
}

/// The fitted laps of one setting over runs of a day: numbers of runs, and laps, s.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedLaps {
    /// The setting.
    pub level: usize,
    /// Run and lap.
    pub laps: Vec<(usize, f64)>,
}

/// The drawing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RunsChart {
    /// What it says.
    pub words: Words,
    /// Height of the paper.
    pub height: String,
    /// Where the axis stands.
    pub foot: String,
    /// Where the labels stand.
    pub under: String,
    /// Ticks up: laps, min:s.
    pub y: Vec<Tick>,
    /// Labels along the bottom.
    pub x: Vec<Tick>,
    /// The marks.
    pub marks: Vec<RunMark>,
    /// Where something was set: across, and in words; empty where no words have room.
    pub changes: Vec<Tick>,
    /// Fitted lines as `x,y x,y`, and whether the setting's line is broken.
    pub lines: Vec<(String, bool)>,
    /// What was read of the runs, row by row below their labels.
    pub below: Vec<BelowRow>,
    /// Whether any of them tells corners apart.
    pub corners: bool,
    /// What the driver said, below.
    pub said: Vec<RunWords>,
    /// The numbers.
    pub table: Table,
}

/// A run as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RunMark {
    /// Across.
    pub x: String,
    /// Up.
    pub y: String,
    /// 0 a filled dot, 1 a hollow square, 2 a hollow dot, 3 the letter.
    pub shape: u8,
    /// The setting's letter, which from the fourth on stands for its mark.
    pub letter: String,
}

/// Words below a run.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RunWords {
    /// Across: their middle.
    pub x: String,
    /// Where they stand.
    pub y: String,
    /// The words, cut to fit.
    pub text: String,
}

/// Width of the paper; the template's `viewBox` has the same.
pub const WIDTH: f64 = 340.0;
const LEFT: f64 = 60.0;
const RIGHT: f64 = 302.0;
const TOP: f64 = 26.0;
const FOOT: f64 = 140.0;
const ROW: f64 = 15.0;

/// Draws it.
#[must_use]
pub fn runs(
    words: Words,
    points: &[RunPoint],
    fitted: &[FittedLaps],
    below: &[BelowSeries],
    table: Table,
) -> RunsChart {
    let count = points.len().max(1);
    let step = (RIGHT - LEFT) / count as f64;
    let x = |index: usize| LEFT + step * (index as f64 + 0.5);
    let laps = points
        .iter()
        .map(|point| point.lap)
        .chain(fitted.iter().flat_map(|line| line.laps.iter().map(|(_, lap)| *lap)));
    // The quicker the higher.
    let y = PaperScale::over(laps, TOP + 8.0, FOOT - 6.0, 3);
    let rows = match step {
        step if step >= 60.0 => 1,
        step if step >= 35.0 => 2,
        step if step >= 20.0 => 3,
        _ => 0,
    };
    let under = FOOT + ROW;
    let corners = below.iter().flat_map(|row| &row.readings).any(|reading| reading.corner.is_some());
    let (below, bottom) = below::rows(below, under + 5.0, step, x);
    let bottom = if below.is_empty() { under } else { bottom };
    let labels = points.iter().enumerate().filter(|(index, point)| {
        let every = (longest(points) * LETTER / step).ceil().max(1.0) as usize;
        index % every == 0 && !point.label.is_empty()
    });
    let said = points.iter().enumerate().filter(|(_, point)| rows > 0 && !point.words.is_empty());
    let has_words = rows > 0 && points.iter().any(|point| !point.words.is_empty());
    RunsChart {
        words,
        height: place(bottom + 8.0 + if has_words { ROW * f64::from(rows) } else { 0.0 }),
        foot: place(FOOT),
        under: place(under),
        y: ticks(y),
        x: labels.map(|(index, point)| Tick { at: place(x(index)), text: short(&point.label, 12) }).collect(),
        marks: points
            .iter()
            .enumerate()
            .filter(|(_, point)| point.lap.is_finite())
            .map(|(index, point)| RunMark {
                x: place(x(index)),
                y: y.place(point.lap),
                shape: point.level.min(3) as u8,
                letter: point.letter.clone(),
            })
            .collect(),
        changes: changes(points, step, x),
        below,
        corners,
        lines: fitted
            .iter()
            .filter(|line| line.laps.len() > 1)
            .map(|line| {
                let places = line.laps.iter().filter(|(_, lap)| lap.is_finite());
                let places: Vec<String> = places
                    .map(|(run, lap)| format!("{},{}", place(x(*run).min(RIGHT)), y.place(*lap)))
                    .collect();
                (places.join(" "), line.level > 0)
            })
            .collect(),
        said: said
            .map(|(index, point)| RunWords {
                x: place(x(index)),
                y: place(bottom + ROW * (index % rows as usize + 1) as f64),
                text: short(
                    &point.words,
                    ((step * f64::from(rows) - 4.0) / LETTER).floor().max(1.0) as usize,
                ),
            })
            .collect(),
        table,
    }
}

/// Letters of the longest label, as it is shown.
fn longest(points: &[RunPoint]) -> f64 {
    points.iter().map(|point| columns(&point.label).min(12) + 1).max().unwrap_or(1) as f64
}

/// Ticks as laps.
fn ticks(scale: PaperScale) -> Vec<Tick> {
    let lap = |tick: Tick| {
        let decimals = tick.text.split_once('.').map_or(0, |(_, rest)| rest.len().min(3) as u8);
        let text = tick.text.parse::<f64>().map_or(tick.text.clone(), |seconds| {
            if seconds >= 60.0 { words::lap(seconds, decimals) } else { tick.text.clone() }
        });
        Tick { at: tick.at, text: short(&text, 8) }
    };
    scale.ticks().into_iter().map(lap).collect()
}

/// Where something was set, in words that have room until the next.
fn changes(points: &[RunPoint], step: f64, x: impl Fn(usize) -> f64) -> Vec<Tick> {
    let set: Vec<usize> = (0..points.len())
        .filter(|index| points.get(*index).is_some_and(|point| !point.change.is_empty()))
        .collect();
    set.iter()
        .enumerate()
        .filter_map(|(number, index)| {
            let at = x(*index) - step / 2.0;
            let until = set.get(number + 1).map_or(WIDTH - 4.0, |next| x(*next) - step / 2.0);
            let point = points.get(*index)?;
            let texts: Vec<&str> = point.change.iter().map(String::as_str).collect();
            Some(Tick { at: place(at), text: fitting(&texts, until - at - 3.0) })
        })
        .collect()
}
