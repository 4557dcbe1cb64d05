//! The rate book drawn: a row a part, a dot each rate it can have, its scatter and its tag, and the range that somebody asks for.
//!
//! Must not know how a rate is worked out, nor where it stands on a page.

use crate::book::model::PartId;
use crate::figures::bench::rates::Rate;
use crate::figures::trace::usual;
use crate::report::chart::plot::Plot;
use crate::report::chart::rates::{RateDot, RateSeries, RateStands, RatesChart, rates};
use crate::report::chart::{Table, Words, id};
use crate::report::section::figures::chain::ChainStep;
use crate::report::words;
use crate::units::{DimensionId, number};
use serde::Serialize;

/// More rows than these make a drawing that nobody reads; the list below it has every part.
const MOST: usize = 24;

/// A line of the rate book.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BenchRate {
    /// The part.
    pub part: String,
    /// Its spec and serial.
    pub about: String,
    /// The hole or position; empty without one.
    pub hole: String,
    /// The mean rate.
    pub rate: String,
    /// Its unit.
    pub unit: String,
    /// 95 % half-width of the mean; an en dash for one reading.
    pub half_width: String,
    /// How many repeats.
    pub repeats: usize,
    /// Points that were void.
    pub voids: usize,
    /// The tag; an en dash without one.
    pub tag: String,
    /// Bench against tag, per cent with its sign.
    pub off: String,
    /// "one-end-held".
    pub convention: String,
    /// When.
    pub when: String,
    /// The gauge.
    pub gauge: String,
    /// Its lines.
    pub src: String,
    /// Where the rate is from.
    pub chain: Vec<ChainStep>,
    /// The drawing, where it shows more than a line through two points: three or more, or a void one.
    pub plot: Option<Plot>,
}

/// What is asked of a bar: of which car and axle, and its softest and stiffest rate, N/m.
pub(super) struct AskedRate<'a> {
    /// "bittern front".
    pub whose: &'a str,
    /// Softest and stiffest.
    pub range: (f64, f64),
}

/// The drawing of a shelf: its rates, and its lines in the same order; none of none.
pub(super) fn drawn(
    kind: &str,
    all: &[Rate],
    lines: &[(PartId, BenchRate)],
    asked: Option<&AskedRate<'_>>,
) -> Option<RatesChart> {
    let imperial = !lines.is_empty() && lines.iter().all(|(_, line)| line.unit != "N/mm");
    let unit = usual(DimensionId::STIFFNESS, imperial).get();
    let size = |si: f64| si / unit.factor;
    let range = asked.map(|asked| (size(asked.range.0), size(asked.range.1)));
    let mut parts: Vec<(PartId, RateSeries)> = Vec::new();
    let mut rows = Vec::new();
    for (rate, (part, line)) in all.iter().zip(lines) {
        let dot = RateDot {
            label: line.hole.clone(),
            rate: size(rate.rate.value),
            half_width: rate.half_width.map(size),
        };
        let full = parts.len() == MOST;
        match parts.iter_mut().find(|(same, _)| same == part) {
            Some((_, series)) => series.dots.push(dot.clone()),
            None if full => continue,
            None => parts.push((
                *part,
                RateSeries { name: line.part.clone(), dots: vec![dot.clone()], tag: rate.tag.map(size) },
            )),
        }
        // In the unit of its own line a rate is told as there.
        let told = |text: &str, si: Option<f64>| {
            if line.unit == unit.shown() {
                text.to_owned()
            } else {
                si.map_or_else(|| words::DASH.to_owned(), |si| number::format(size(si), 1))
            }
        };
        let mut cells = vec![
            line.part.clone(),
            if line.hole.is_empty() { words::DASH.to_owned() } else { line.hole.clone() },
            told(&line.rate, Some(rate.rate.value)),
            told(&line.half_width, rate.half_width),
            told(&line.tag, rate.tag),
        ];
        cells.extend(range.map(|range| stands(dot.against(range)).to_owned()));
        rows.push(cells);
    }
    if parts.is_empty() {
        return None;
    }
    let whose = asked.map_or("", |asked| asked.whose);
    let shown = unit.shown();
    let mut head = vec!["part".to_owned(), "hole".to_owned(), format!("rate, {shown}")];
    head.extend([format!("95 % half-width, {shown}"), format!("tag, {shown}")]);
    head.extend(asked.map(|_| "against what is asked".to_owned()));
    let named = kind.replace('-', " ");
    let drawing = Words {
        id: id(&["rates", kind, whose]),
        title: match asked {
            Some(asked) => format!("{named} of every part on the bench, against what {} asks for", asked.whose),
            None => format!("{named} of every part on the bench"),
        },
        desc: "A row a part; a dot each rate it can have, its hole above it, with the 95 % half-width of its mean; a line from its softest to \
               its stiffest; broken ticks stand at the tag. The band is the range asked for: dots within it are filled, the others hollow, with a point in those that may be either by their half-width."
            .to_owned(),
    };
    let series: Vec<RateSeries> = parts.into_iter().map(|(_, series)| series).collect();
    Some(rates(drawing, shown, range, &series, Table { head, rows }))
}

const fn stands(of: RateStands) -> &'static str {
    match of {
        RateStands::Softer => "softer",
        RateStands::Within => "within",
        RateStands::Stiffer => "stiffer",
        RateStands::Either => "cannot tell",
    }
}
