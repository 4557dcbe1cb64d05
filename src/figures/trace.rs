//! A figure's chain as plain data: formula, source, convention, inputs, lines. Built only when asked.
//!
//! Must not know the terminal or HTML. Serialised as `trace --format json`; keys are documented in `grammar/json.md`.

use super::calc::{Calc, Corrected, Fig, Node, Status};
use super::chain::NodeId;
use crate::book::entry::{EntryId, HeldAgainst};
use crate::book::model::GaugeId;
use crate::units::{DimensionId, UnitId, number, table};
use rustc_hash::{FxHashMap, FxHashSet};
use std::collections::BTreeSet;

/// Where a value was typed.
#[derive(Debug, Clone, serde::Serialize)]
pub struct Line {
    /// Path in the book.
    pub path: String,
    /// Line, from 1.
    pub line: u32,
    /// What was typed.
    pub text: String,
    /// Date of its block.
    pub date: Option<String>,
}

/// One step of a chain.
#[derive(Debug, Clone, serde::Serialize)]
pub struct Step {
    /// What it is.
    pub name: String,
    /// Where on the car; empty for the whole.
    pub place: String,
    /// SI value.
    pub value_si: f64,
    /// Value in the unit shown.
    pub value: f64,
    /// As shown, with its unit.
    pub shown: String,
    /// The unit shown.
    pub unit: String,
    /// Standard uncertainty, SI.
    pub u_si: Option<f64>,
    /// The same in the unit shown.
    pub u: Option<f64>,
    /// measured, stated, tag, derived, inferred or assumed.
    pub status: Status,
    /// Formula id, expression over the inputs' names in SI, source, convention.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub formula: Option<FormulaView>,
    /// The inputs by name.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub inputs: Vec<Input>,
    /// Its inputs stand where this step was told before: a chain too long to tell everything as often as it is used tells it once.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub above: bool,
    /// Where it was typed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub typed: Option<Line>,
    /// How it was put right, where comparisons of its gauge say how much that reads high.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corrected: Option<CorrectedView>,
    /// What its uncertainty is from.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub sure: String,
    /// Source of a default.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub source: String,
    /// What a reader must be told beside the value: outside a validity limit, beyond a minimum.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub caution: String,
    /// The line whose change made a reading under it stale.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stale: Option<Line>,
}

/// A reading as it was put right.
#[derive(Debug, Clone, serde::Serialize)]
pub struct CorrectedView {
    /// The value as typed, SI.
    pub typed_si: f64,
    /// By how much its gauge reads high, SI.
    pub high_si: f64,
    /// By how much that may be off, either way, SI.
    pub half_si: f64,
    /// The gauge.
    pub gauge: String,
    /// What it is corrected against: `reference`, or the gauge in whose terms it is.
    pub against: String,
    /// No comparison lies on either side of its day: the nearest is taken.
    pub nearest: bool,
    /// The comparisons.
    pub lines: Vec<Line>,
}

/// A formula for readers.
#[derive(Debug, Clone, serde::Serialize)]
pub struct FormulaView {
    /// Its id.
    pub id: String,
    /// Over the inputs' names, in SI.
    pub expression: String,
    /// Where it is published.
    pub source: String,
    /// What a reader must know.
    pub convention: String,
}

/// A named input.
#[derive(Debug, Clone, serde::Serialize)]
pub struct Input {
    /// The name the expression uses.
    pub input: String,
    /// Its own chain.
    #[serde(flatten)]
    pub step: Step,
}

/// The whole chain of a figure.
#[must_use]
pub fn trace(calc: &Calc<'_>, fig: &Fig, imperial: bool) -> Step {
    let mut told = (length(calc, fig.node) > LONGEST).then(FxHashSet::default);
    step(calc, fig.node, imperial, &mut told)
}

/// So many steps a chain may have with everything told wherever it is used. Steps share what is under them, so that figures of one
/// another may have more of them than there is room for.
const LONGEST: u64 = 2000;

/// How many steps a chain has with everything told wherever it is used.
fn length(calc: &Calc<'_>, at: NodeId) -> u64 {
    let mut known: FxHashMap<NodeId, u64> = FxHashMap::default();
    let mut open = vec![(at, false)];
    while let Some((at, under)) = open.pop() {
        let Some(node) = calc.nodes.get(at).filter(|_| !known.contains_key(&at)) else { continue };
        let inputs = node.inputs.iter().map(|(_, input)| *input);
        if under {
            let of = |input| known.get(&input).copied().unwrap_or(0);
            let all = inputs.fold(1, |sum: u64, input| sum.saturating_add(of(input)));
            known.insert(at, all);
        } else {
            open.push((at, true));
            open.extend(inputs.map(|input| (input, false)));
        }
    }
    known.get(&at).copied().unwrap_or(0)
}

/// A figure as it is shown, with its unit, in the car's own units.
#[must_use]
pub(super) fn shown(calc: &Calc<'_>, fig: &Fig) -> String {
    head(calc, fig.node, calc.imperial()).shown
}

/// A figure as its last step alone, without what is under it.
#[must_use]
pub fn told(calc: &Calc<'_>, fig: &Fig, imperial: bool) -> Step {
    head(calc, fig.node, imperial)
}

/// A step with what is under it; with a list of those told, under each of them once.
fn step(calc: &Calc<'_>, at: NodeId, imperial: bool, told: &mut Option<FxHashSet<NodeId>>) -> Step {
    let mut step = head(calc, at, imperial);
    let inputs = &calc.nodes[at].inputs;
    step.above = !inputs.is_empty() && told.as_mut().is_some_and(|told| !told.insert(at));
    if !step.above {
        let each = |(name, input): &(String, NodeId)| Input {
            input: name.clone(),
            step: self::step(calc, *input, imperial, told),
        };
        step.inputs = inputs.iter().map(each).collect();
    }
    step
}

/// A step by itself.
fn head(calc: &Calc<'_>, at: NodeId, imperial: bool) -> Step {
    let node = &calc.nodes[at];
    let unit = shown_unit(node, imperial);
    let value = unit.get().from_si(node.value);
    let u = node.u.map(|u| u / unit.get().factor);
    let typed = node.formula.is_none() && node.unit == Some(unit);
    let decimals = if typed {
        node.decimals
    } else if node.dimension == DimensionId::LAPS {
        0
    } else if let Some(decimals) = estimated_decimals(calc, at, imperial) {
        decimals
    } else {
        let fine = calc.fine.get(&at).filter(|_| u.is_none());
        decimals_of(value, u)
            .min(fine.map_or(u8::MAX, |fine| number::decimals_for(fine / unit.get().factor.abs())))
    };
    let symbol = unit.get().shown();
    let shown = match symbol {
        "" => number::format(value, decimals),
        symbol => format!("{} {symbol}", number::format(value, decimals)),
    };
    Step {
        name: node.name.clone(),
        place: calc.book.place_word(node.place),
        value_si: node.value,
        value,
        shown,
        unit: symbol.to_owned(),
        u_si: node.u,
        u,
        status: node.status,
        formula: node.formula.map(|formula| FormulaView {
            id: formula.id.to_owned(),
            expression: formula.expression.to_owned(),
            source: formula.source.to_owned(),
            convention: formula.convention.to_owned(),
        }),
        inputs: Vec::new(),
        above: false,
        typed: node.span.map(|span| line(calc, span, node.entry)),
        corrected: calc.corrected.get(&at).map(|one| corrected(calc, one)),
        sure: node.sure.clone(),
        source: node.source.to_owned(),
        caution: caution(calc, at).unwrap_or_default(),
        stale: node.stale.map(|entry| {
            let span = calc.book.entries[entry].span();
            line(calc, span, Some(entry))
        }),
    }
}

fn corrected(calc: &Calc<'_>, one: &Corrected) -> CorrectedView {
    let name = |gauge: GaugeId| {
        calc.book.gauges.get(gauge).map_or_else(String::new, |gauge| gauge.named.typed.to_string())
    };
    let lines = one.by.lines.iter().filter_map(|entry| Some((*entry, calc.book.entries.get(*entry)?.span())));
    CorrectedView {
        typed_si: one.typed,
        high_si: one.high,
        half_si: one.half,
        gauge: name(one.gauge),
        against: match one.by.against {
            HeldAgainst::Reference => "reference".to_owned(),
            HeldAgainst::Gauge(other) => name(other),
        },
        nearest: one.by.nearest,
        lines: lines.map(|(entry, span)| line(calc, span, Some(entry))).collect(),
    }
}

fn line(calc: &Calc<'_>, span: crate::source::Span, entry: Option<EntryId>) -> Line {
    let date = entry.and_then(|entry| calc.history.order.date(calc.book, entry));
    Line {
        path: calc.files.path(span.file).to_owned(),
        line: calc.files.line(span),
        text: calc.files.text(span).to_owned(),
        date: date.map(|date| date.to_string()),
    }
}

/// The unit a step is shown in: as typed, else the usual one of its kind for the car's system.
fn shown_unit(node: &Node<'_>, imperial: bool) -> UnitId {
    if let Some(formula) = node.formula {
        let [metric_unit, imperial_unit] = formula.show;
        if let Some(unit) = if imperial { imperial_unit } else { metric_unit } {
            return unit;
        }
        let own = table().find_one(formula.shown, formula.dimension).filter(|_| !formula.shown.is_empty());
        return own.unwrap_or_else(|| usual(formula.dimension, imperial));
    }
    // Toe typed as a length is kept as an angle, and an angle is what it is shown as.
    let length =
        |unit: &UnitId| node.dimension == DimensionId::TOE && unit.get().dim == DimensionId::LENGTH.get().dim;
    node.unit.filter(|unit| !length(unit)).unwrap_or_else(|| usual(node.dimension, imperial))
}

/// The unit in which figures of a kind are shown on a metric or an imperial car.
#[must_use]
pub fn usual(dimension: DimensionId, imperial: bool) -> UnitId {
    let symbol = match (dimension.name(), imperial) {
        ("angle" | "toe", _) => "deg",
        ("length", false) => "mm",
        ("length", true) => "in",
        ("distance", false) => "km",
        ("distance", true) => "mile",
        ("weight" | "mass", false) => "kg",
        ("weight" | "mass", true) => "lb",
        ("force", false) => "N",
        ("force", true) => "lbf",
        ("pressure", false) => "bar",
        ("pressure", true) => "psi",
        ("temperature" | "temperature-difference", false) => "C",
        ("temperature" | "temperature-difference", true) => "F",
        ("torque", false) => "N.m",
        ("torque", true) => "lbf.ft",
        ("stiffness", false) => "N/mm",
        ("stiffness", true) => "lb/in",
        ("roll-stiffness", false) => "N.m/deg",
        ("roll-stiffness", true) => "lbf.ft/deg",
        ("volume" | "fluid", false) => "L",
        ("volume", true) => "US-gal",
        ("fluid", true) => "US-qt",
        ("speed", false) => "km/h",
        ("speed", true) => "mph",
        ("power", false) => "kW",
        ("power", true) => "hp",
        ("specific-power", false) => "kW/t",
        ("specific-power", true) => "hp/lb",
        ("volume-flow", _) => "cc/min",
        ("mass-flow", false) => "kg/h",
        ("mass-flow", true) => "lb/h",
        ("rotation", _) => "rpm",
        ("time", _) => "min",
        ("frequency", _) => "Hz",
        ("density", false) => "kg/m3",
        ("density", true) => "lb/ft3",
        ("turn", _) => "turn",
        ("length-per-time", false) => "mm/h",
        ("length-per-time", true) => "thou/h",
        ("ratio-per-time", _) => "%/h",
        ("pressure-per-time", false) => "bar/h",
        ("pressure-per-time", true) => "psi/h",
        ("weight-per-turn", false) => "kg/turn",
        ("weight-per-turn", true) => "lb/turn",
        ("angle-per-acceleration", _) => "deg/g",
        ("length-per-mass", false) => "mm/kg",
        ("length-per-mass", true) => "in/lb",
        ("volume-per-lap", false) => "L/lap",
        ("volume-per-lap", true) => "US-gal/lap",
        ("turns-per-length", false) => "turn/km",
        ("turns-per-length", true) => "turn/mile",
        _ => "",
    };
    // Of any other kind the first unit it is usually in: a number of a physical kind never stands without one.
    let kind = dimension.get();
    let is_plain = kind.bare || kind.dim.0.iter().take(PHYSICAL).all(|exponent| *exponent == 0);
    let first =
        || kind.usual.iter().find_map(|symbol| table().find_one(symbol, dimension)).filter(|_| !is_plain);
    table().find_one(symbol, dimension).or_else(first).unwrap_or_else(|| table().plain())
}

/// How many bases of a dimension are physical, in its order: length, mass, time, temperature, current, angle.
const PHYSICAL: usize = 6;

/// With how many decimals an estimate is shown: one less than what was read of its kind for it, in its unit. `None` for what is
/// no estimate.
#[must_use]
pub fn estimated_decimals(calc: &Calc<'_>, at: NodeId, imperial: bool) -> Option<u8> {
    let unit = shown_unit(calc.nodes.get(at).filter(|_| calc.estimated.contains(&at))?, imperial);
    let (mut most, mut seen, mut open) = (0, FxHashSet::default(), vec![at]);
    while let Some(next) = open.pop() {
        let Some(node) = calc.nodes.get(next).filter(|_| seen.insert(next)) else { continue };
        open.extend(node.inputs.iter().map(|(_, input)| *input));
        if node.status == Status::Measured && node.formula.is_none() && node.unit == Some(unit) {
            most = most.max(node.decimals);
        }
    }
    Some(most.saturating_sub(1))
}

/// What stands beside a step: what to be careful of, or what was typed first for a value that was corrected.
fn caution(calc: &Calc<'_>, at: NodeId) -> Option<String> {
    let own = calc.cautions.get(&at).map(ToString::to_string);
    own.or_else(|| {
        let node = calc.nodes.get(at)?;
        let (line, span) = node.entry.zip(node.span)?;
        let typed = calc.book.entries.get(line).filter(|_| !calc.book.corrections.is_empty())?;
        let items = calc.book.items_of(typed).iter().enumerate();
        let mut items = items.filter(|(_, item)| item.start == span.start && item.place == node.place);
        let (first, by) = items.find_map(|(item, _)| {
            let one = calc.book.corrections.get(&typed.items.plus(item))?;
            let digits = calc.files.typed(one.typed.span(typed.file));
            // Of a pair one number may stand as it was typed.
            let unit = calc.book.items.get(typed.items.plus(item)).map(|item| item.unit);
            if digits == calc.files.text(span) && unit == Some(one.typed.unit) {
                return None;
            }
            Some((format!("{digits} {}", one.typed.unit().get().shown()), one.by))
        })?;
        let by = calc.book.entries.get(by).map(crate::book::entry::Entry::span)?;
        let by = self::line(calc, by, None);
        Some(format!("typed {}, corrected on line {} of {}", first.trim_end(), by.line, by.path))
    })
}

/// What stands beside a value or a step on the way to it, in the words of each; each once.
#[must_use]
pub fn cautions(calc: &Calc<'_>, at: NodeId) -> Vec<String> {
    let (mut seen, mut open, mut all) = (FxHashSet::default(), vec![at], BTreeSet::new());
    while let Some(next) = open.pop() {
        let Some(node) = calc.nodes.get(next).filter(|_| seen.insert(next)) else { continue };
        open.extend(node.inputs.iter().map(|(_, input)| *input));
        all.extend(caution(calc, next));
    }
    all.into_iter().collect()
}

/// Decimals for a derived value: to the first digit of its uncertainty and one more, else four figures; of one that rests on readings by no
/// gauge no more than their last digits come to in it (`Calc::fine`).
fn decimals_of(value: f64, u: Option<f64>) -> u8 {
    let scale = match u {
        Some(u) if u > 0.0 => u / 10.0,
        _ if value == 0.0 => 1e-3,
        _ => value.abs() / 10_000.0,
    };
    let mut decimals = 0;
    let mut step = 1.0;
    while step > scale * 1.000_001 && decimals < 8 {
        step /= 10.0;
        decimals += 1;
    }
    decimals
}
