//! Drift: how a setting was last found against how it was left before, in gauge widths, with what happened between.
//!
//! Must not know which quantities are asked about.

use super::calc::{Calc, Fig, Got, Missing, Root, Status};
use super::chain::Node;
use super::formula::Formula;
use crate::book::entry::{By, Item, Verb};
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::slots::{Register, SlotEvent};
use crate::history::usage;
use crate::units::DimensionId;
use crate::vocabulary::QuantityId;

const WIDTHS: Formula = Formula {
    id: "drift",
    name: "drift in gauge widths",
    expression: "(found - left) / width",
    source: "common practice",
    convention: "width is the coarser of what the two gauges tell apart, or of the last digit typed; within two of them it is the same",
    dimension: DimensionId::RATIO,
    shown: "",
    show: [None, None],
};

/// How a setting was found against how it was left.
#[derive(Debug, Clone)]
pub struct Drift {
    /// Found less left, over the gauge's width.
    pub widths: Fig,
    /// Found less left, SI.
    pub moved: f64,
    /// Sessions between.
    pub sessions: u32,
    /// Running minutes between, where stated.
    pub minutes: f64,
    /// Impacts between, wherever they were.
    pub hits: u32,
}

/// The drift of a quantity at a place: the last `found` before the moment against the last `left` before it.
///
/// # Errors
/// When it was not found and left, or was set on purpose between.
pub fn drift(calc: &mut Calc<'_>, name: &str, place: Place) -> Got<Drift> {
    let id = calc.quantity(name)?;
    let slot = calc.slot_name(id, place);
    let (left, found) = pair(calc, id, place, &slot)?;
    let width = grain(calc, left).max(grain(calc, found));
    if width <= 0.0 || !width.is_finite() {
        return Err(Missing::one(format!("what the gauge tells apart for {slot}")));
    }
    let was = event(calc, format!("{slot} as left"), id, place, left);
    let is = event(calc, format!("{slot} as found"), id, place, found);
    let dimension = calc.book.vocabulary.get(id).dimension;
    let grain = calc.constant(
        "gauge width",
        width,
        dimension,
        "the coarser of the two gauges' resolutions, or of the last digits typed",
    );
    let inputs = [("found", &is), ("left", &was), ("width", &grain)];
    let widths = calc.derive(&WIDTHS, place, &inputs, |at| (&at[0] - &at[1]) / &at[2])?;
    let rank = |event: SlotEvent| event.rank(&calc.history.order).unwrap_or(Rank::START);
    let (from, until) = (rank(left), rank(found));
    let sessions = calc.between(from, until);
    let run = usage::total(sessions.iter().map(|id| calc.history.sessions.get(*id)));
    let hits = calc.car.map_or(0, |car| calc.history.disturbances.hits(car, from, until).count()) as u32;
    if let Some(node) = calc.nodes.get_mut(widths.node) {
        let least = if run.minutes_at_least { "at least " } else { "" };
        node.sure = format!(
            "between them {} sessions, {least}{:.0} min of running, {} impacts",
            run.sessions, run.minutes, hits
        );
    }
    let moved = is.value - was.value;
    Ok(Drift { widths, moved, sessions: run.sessions, minutes: run.minutes, hits })
}

/// The drift as a figure.
pub(super) fn widths(calc: &mut Calc<'_>, name: &str, place: Place) -> Got {
    super::springs::corner(place)?;
    drift(calc, name, place).map(|drift| drift.widths)
}

/// The last found, and the left before it, with nothing set between.
fn pair(calc: &Calc<'_>, id: QuantityId, place: Place, slot: &str) -> Got<(SlotEvent, SlotEvent)> {
    let none = || Missing::one(format!("{slot} found, and left before that"));
    let track = calc.state(id, place).ok_or_else(none)?.track;
    let verb = |event: &SlotEvent| event.line(calc.book).map(|entry| entry.verb);
    let past = |event: &&SlotEvent| event.rank(&calc.history.order).is_none_or(|rank| rank < calc.rank);
    let events: Vec<SlotEvent> = track.events.iter().take_while(past).copied().collect();
    let at = events
        .iter()
        .rposition(|event| event.register() == Register::Read && verb(event) == Some(Verb::Found))
        .ok_or_else(none)?;
    for before in events[..at].iter().rev() {
        match (before.register(), verb(before)) {
            (Register::Read, Some(Verb::Left)) => return Ok((*before, events[at])),
            (Register::Asked, Some(_)) => {
                return Err(Missing::one(format!(
                    "{slot} left after it was last set and before it was found"
                )));
            }
            (Register::Unknown, _) => {
                return Err(Missing::one(format!("{slot} put right (a line between has an error)")));
            }
            _ => {}
        }
    }
    Err(none())
}

fn item<'a>(calc: &Calc<'a>, event: SlotEvent) -> Option<&'a Item> {
    calc.book.items.get(event.item())
}

/// What the reading's gauge, or its last digit, tells apart, in SI.
fn grain(calc: &Calc<'_>, event: SlotEvent) -> f64 {
    let (Some(item), Some(entry)) = (item(calc, event), event.line(calc.book)) else {
        return 0.0;
    };
    let digit = f64::from(item.half) * 2.0;
    let By::Gauge(gauge) = entry.by else { return digit };
    let resolution = calc.book.gauges.get(gauge).and_then(|gauge| gauge.resolution);
    let Some(resolution) = resolution else { return digit };
    let unit = resolution.unit().get();
    let size = unit.difference_to_si(unit.from_si(resolution.si));
    let per_metre = entry
        .quantity
        .filter(|_| unit.dim == item.unit().get().dim)
        .and_then(|id| calc.toe_per_metre(id, item, calc.files.text(item.span(entry.file))));
    // A length resolution of an angle typed as an angle (or of no toe at all) says nothing.
    per_metre.map_or(digit, |scale| (size * scale).max(digit))
}

/// A reading of the track as an input.
fn event(calc: &mut Calc<'_>, name: String, id: QuantityId, place: Place, event: SlotEvent) -> Fig {
    let dimension = calc.book.vocabulary.get(id).dimension;
    let Some((at, line)) = item(calc, event).copied().zip(event.line(calc.book)) else {
        return calc.constant("a reading", event.value, dimension, "the book");
    };
    let span = at.span(line.file);
    calc.nodes.push(Node {
        name,
        place,
        value: event.value,
        u: None,
        dimension,
        status: Status::Measured,
        formula: None,
        inputs: Vec::new(),
        span: Some(span),
        entry: event.entry,
        unit: Some(at.unit()),
        decimals: at.decimals,
        sure: String::new(),
        source: "",
        stale: None,
    });
    let node = calc.nodes.len() - 1;
    Fig {
        value: event.value,
        status: Status::Measured,
        by: vec![(Root::Typed(span), 1.0)],
        stale: None,
        node,
    }
}
