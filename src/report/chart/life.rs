//! The share still good at each age, in steps, each curve with its band and a tick for every one that was left without
//! failing. A curve ends where its last life was watched; nothing is smoothed.
//!
//! Must not know parts.

use super::scale::{PaperScale, Tick, place};
use super::{Table, Words, short};
use serde::Serialize;
use std::fmt::Write as _;

/// A step down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LifeStep {
    /// At which age.
    pub at: f64,
    /// The share still good after it, 0 to 1.
    pub share: f64,
    /// Its band, where there is one.
    pub band: Option<(f64, f64)>,
}

/// One curve.
#[derive(Debug, Clone, PartialEq)]
pub struct LifeSeries {
    /// What it is of, for the key.
    pub name: String,
    /// Its steps, in order of age.
    pub steps: Vec<LifeStep>,
    /// Ages at which one was left without failing.
    pub left: Vec<f64>,
    /// The age past which nothing was watched.
    pub last: f64,
}

/// The chart.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LifeChart {
    /// What it says.
    pub words: Words,
    /// What the axis across is.
    pub across: String,
    /// Ticks across.
    pub x: Vec<Tick>,
    /// Ticks up.
    pub y: Vec<Tick>,
    /// The stated limit; none without one.
    pub limit: Option<LifeLimit>,
    /// The curves.
    pub curves: Vec<LifeCurve>,
    /// Height of the paper.
    pub height: String,
    /// Where the key says what a tick is.
    pub foot: String,
    /// Whether any tick is drawn.
    pub ticks: bool,
    /// The numbers.
    pub table: Table,
}

/// The stated limit as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LifeLimit {
    /// Its place on the paper.
    pub at: String,
    /// What is written beside it.
    pub text: String,
    /// `start` or `end`: on which side of the line its words begin.
    pub anchor: &'static str,
}

/// A curve as drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LifeCurve {
    /// Which kind of line: 0 to 5.
    pub style: usize,
    /// Its words in the key, cut to fit.
    pub name: String,
    /// Where the key has its line.
    pub key: String,
    /// Where the key has its words.
    pub text: String,
    /// The steps, as a path.
    pub path: String,
    /// The band, as a path; empty without one.
    pub band: String,
    /// The ticks, as a path; empty without one.
    pub ticks: String,
}

/// Width of the paper; the template's `viewBox` has the same.
pub const WIDTH: f64 = 340.0;
/// So many curves are drawn, each with a line of its own; of more only the numbers are told.
pub const MOST: usize = 6;
const TOP: f64 = 30.0;
const FLOOR: f64 = 170.0;
const KEY: f64 = 216.0;
const ROW: f64 = 16.0;

/// Draws them. The limit, in the axis's unit, has its own words.
#[must_use]
pub fn life(
    words: Words,
    across: &str,
    limit: Option<(f64, String)>,
    curves: &[LifeSeries],
    table: Table,
) -> LifeChart {
    let (shown, _) = curves.split_at(curves.len().min(MOST));
    let ends = shown.iter().map(|curve| curve.last).chain(limit.iter().map(|limit| limit.0));
    let x = PaperScale::over(ends.chain([0.0]), 40.0, WIDTH - 14.0, 5);
    let y = PaperScale::over([0.0, 100.0], FLOOR, TOP, 5);
    let ticks = shown.iter().any(|curve| !curve.left.is_empty());
    let foot = KEY + ROW * shown.len() as f64;
    LifeChart {
        words,
        across: across.to_owned(),
        x: x.ticks(),
        y: y.ticks(),
        limit: limit.filter(|limit| limit.0.is_finite()).map(|(at, text)| {
            let anchor = if x.at(at) < WIDTH / 2.0 { "start" } else { "end" };
            LifeLimit { at: x.place(at), text: short(&text, 24), anchor }
        }),
        curves: shown.iter().enumerate().map(|(at, curve)| drawn(at, curve, &x, &y)).collect(),
        height: place(foot + if ticks { 8.0 } else { -6.0 }),
        foot: place(foot),
        ticks,
        table,
    }
}

fn drawn(at: usize, curve: &LifeSeries, x: &PaperScale, y: &PaperScale) -> LifeCurve {
    let key = KEY + ROW * at as f64;
    let up = |share: f64| y.at(share * 100.0);
    let steps: Vec<LifeStep> =
        curve.steps.iter().copied().filter(|step| step.at.is_finite() && step.share.is_finite()).collect();
    let end = x.at(curve.last);
    let mut path = format!("M{} {}", x.place(0.0), place(up(1.0)));
    for step in &steps {
        let _ = write!(path, "H{}V{}", x.place(step.at), place(up(step.share)));
    }
    let _ = write!(path, "H{}", place(end));
    let share = |age: f64| steps.iter().rev().find(|step| step.at <= age).map_or(1.0, |step| step.share);
    let mut ticks = String::new();
    let mut last = String::new();
    for age in curve.left.iter().filter(|age| age.is_finite()) {
        let height = up(share(*age));
        let tick = format!("M{} {}V{}", x.place(*age), place(height - 5.0), place(height + 5.0));
        if tick != last {
            ticks.push_str(&tick);
        }
        last = tick;
    }
    LifeCurve {
        style: at % MOST,
        name: short(&curve.name, 44),
        key: place(key - 4.0),
        text: place(key),
        path,
        band: band(&steps, end, x, &up),
        ticks,
    }
}

/// The outline of the band: along its upper ends and back along its lower ones, broken where there is none.
fn band(steps: &[LifeStep], end: f64, x: &PaperScale, up: &dyn Fn(f64) -> f64) -> String {
    let mut path = String::new();
    let mut left = steps;
    while let Some((_, after)) = left.split_first() {
        let whole = left.iter().take_while(|step| step.band.is_some()).count();
        if whole == 0 {
            left = after;
            continue;
        }
        let (run, later) = left.split_at(whole);
        let right = |nth: usize| left.get(nth + 1).map_or_else(|| place(end), |next| x.place(next.at));
        let ends: Vec<(f64, f64)> = run.iter().filter_map(|step| step.band).collect();
        for (nth, (step, (_, high))) in run.iter().zip(&ends).enumerate() {
            let to = if nth == 0 { format!("M{} ", x.place(step.at)) } else { "V".to_owned() };
            let _ = write!(path, "{to}{}H{}", place(up(*high)), right(nth));
        }
        for (step, (low, _)) in run.iter().zip(&ends).rev() {
            let _ = write!(path, "V{}H{}", place(up(*low)), x.place(step.at));
        }
        path.push('Z');
        left = later;
    }
    path
}
