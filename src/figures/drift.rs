//! Drift: how a setting was last found against how it was left before, in widths of what both gauges leave open, with what happened between.
//!
//! Must not know which quantities are asked about.

use super::calc::{Calc, Fig, Got, Missing, Root, Status};
use super::chain::{Entered, Node};

use super::formula::Formula;
use crate::book::entry::{Item, Verb};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::slots::{Register, SlotEvent};
use crate::history::usage;
use crate::history::{Facts, likeness};
use crate::units::{DimensionId, number, table};
use crate::vocabulary::QuantityId;

const WIDTHS: Formula = Formula {
    id: "drift",
    name: "drift in gauge widths",
    expression: "(found - left) / width",
    source: "common practice",
    convention: "width is what both gauges leave open: half a division of each, or what it repeats within, or half the last digit typed; within one it is the same",
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
    let both = item(calc, left).zip(item(calc, found));
    let width = both.map_or(0.0, |(was, is)| likeness::room(calc.facts, (&left, was), (&found, is)));
    if width <= 0.0 || !width.is_finite() {
        return Err(Missing::one(format!("what the gauge tells apart for {slot}")));
    }
    let terms = [left, found].map(|event| {
        let by = item(calc, event).zip(event.entry);
        by.and_then(|(item, entry)| calc.facts.correction(entry, item)).map(|(_, by)| by.terms)
    });
    // Two gauges that were compared say how far it moved, whichever of them is right.
    let common = terms[0].filter(|_| terms[0] == terms[1]);
    calc.common.extend(common);
    let was = event(calc, format!("{slot} as left"), id, place, left);
    let is = event(calc, format!("{slot} as found"), id, place, found);
    calc.common.truncate(calc.common.len() - usize::from(common.is_some()));
    let dimension = calc.book.vocabulary.get(id).dimension;
    let grain = calc.constant(
        "gauge width",
        width,
        dimension,
        "half a division of each of the two gauges, or what they repeat within, or half the last digits typed",
    );
    let inputs = [("found", &is), ("left", &was), ("width", &grain)];
    let widths = calc.derive_of(&WIDTHS, place, inputs, |[found, left, width]| (found - left) / width)?;
    let rank = |event: SlotEvent| event.rank(&calc.history.order).unwrap_or(Rank::START);
    let (from, until) = (rank(left), rank(found));
    let sessions = calc.between(from, until);
    let run = usage::total(sessions.iter().map(|id| calc.history.sessions.get(*id)));
    let hits = calc.car.map_or(0, |car| calc.history.disturbances.hits(car, from, until).count()) as u32;
    let words = calc.car.map(|car| ran_between(calc.facts, car, [from, until]));
    if let Some((node, words)) = calc.nodes.get_mut(widths.node).zip(words) {
        node.sure = words;
    }
    let moved = is.value - was.value;
    Ok(Drift { widths, moved, sessions: run.sessions, minutes: run.minutes, hits })
}

/// What the car did between two readings, in words: "743 km, 1 impact between", "no running, no impact between".
#[must_use]
pub fn ran_between(facts: Facts<'_>, car: CarId, [from, until]: [Rank; 2]) -> String {
    let sessions = facts.history.sessions.between(car, from, until);
    let run = usage::total(sessions.iter().map(|id| facts.history.sessions.get(*id)));
    let imperial = facts.book.cars.get(car).is_some_and(|car| car.imperial);
    let unit = if imperial { "mile" } else { "km" };
    let metres = table().find_one(unit, DimensionId::LENGTH).map_or(1.0, |unit| unit.get().to_si(1.0));
    let least = |at_least: bool| if at_least { "at least " } else { "" };
    let ran = if run.sessions == 0 {
        "no running".to_owned()
    } else if run.distance > 0.0 {
        format!("{}{} {unit}", least(run.distance_at_least), number::format(run.distance / metres, 0))
    } else if run.minutes > 0.0 {
        format!("{}{} min", least(run.minutes_at_least), number::format(run.minutes, 0))
    } else {
        match run.sessions {
            1 => "1 session".to_owned(),
            count => format!("{count} sessions"),
        }
    };
    let hits = match facts.history.disturbances.hits(car, from, until).count() as u32 {
        0 => "no impact".to_owned(),
        1 => "1 impact".to_owned(),
        hits => format!("{hits} impacts"),
    };
    format!("{ran}, {hits} between")
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
    let is = |event: &SlotEvent, verb| event.line(calc.book).is_some_and(|entry| entry.verb == verb);
    let past = |event: &&SlotEvent| event.rank(&calc.history.order).is_none_or(|rank| rank < calc.rank);
    let events: Vec<SlotEvent> = track.events.iter().take_while(past).copied().collect();
    let at = events
        .iter()
        .rposition(|event| event.register() == Register::Read && is(event, Verb::Found))
        .ok_or_else(none)?;
    let (earlier, from_it) = events.split_at(at);
    let found = from_it.first().ok_or_else(none)?;
    for before in earlier.iter().rev() {
        match before.register() {
            Register::Read if is(before, Verb::Left) => return Ok((*before, *found)),
            Register::Asked if before.line(calc.book).is_some() => {
                return Err(Missing::one(format!(
                    "{slot} left after it was last set and before it was found"
                )));
            }
            Register::Unknown => {
                return Err(Missing::one(format!("{slot} put right (a line between has an error)")));
            }
            // Read on the way, or as the car's declaration has it.
            Register::Read | Register::Asked => {}
        }
    }
    Err(none())
}

fn item<'a>(calc: &Calc<'a>, event: SlotEvent) -> Option<&'a Item> {
    calc.book.items.get(event.item())
}

/// A reading of the track as an input.
fn event(calc: &mut Calc<'_>, name: String, id: QuantityId, place: Place, event: SlotEvent) -> Fig {
    let dimension = calc.book.vocabulary.get(id).dimension;
    let Some((at, line)) = item(calc, event).copied().zip(event.line(calc.book)) else {
        return calc.constant("a reading", event.value, dimension, "the book");
    };
    let span = at.span(line.file);
    let Entered { value, u, roots, corrected } =
        calc.entered(event.value, &at, event.entry, Root::Typed(span), None);
    let node = calc.nodes.push(Node {
        name,
        place,
        value,
        u,
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
    calc.note_corrected(corrected);
    let status = Status::Measured;
    Fig { value, status, by: roots, stale: None, node, back: None }
}
