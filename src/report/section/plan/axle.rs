//! An axle: its two corners row by row, and what lies between them.
//!
//! Must not know the body.

use super::body;
use super::spot::{PlanItem, Spot};
use crate::book::entry::EntryId;
use crate::book::model::PartId;
use crate::book::place::Place;
use crate::figures::calc::Status;
use crate::report::section::plan::making::Making;
use crate::report::section::value::{self, ShownValue, ValueOrigin};
use crate::vocabulary::{Places, QuantityId};
use serde::Serialize;

/// An axle with its two corners.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Axle {
    /// "front", "rear".
    pub name: String,
    /// The driver's left: "LF".
    pub left: String,
    /// "RF".
    pub right: String,
    /// What stands at both corners.
    pub rows: Vec<PlanPair>,
    /// What lies between: bar, differential, pads.
    pub between: Vec<PlanItem>,
}

/// A quantity at the two corners of an axle.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PlanPair {
    /// Its name.
    pub name: String,
    /// The unit, where both have the same.
    pub unit: String,
    /// At the driver's left.
    pub left: Spot,
    /// At his right.
    pub right: Spot,
}

/// What is set and read at a corner, in this order, and whether a sheet without it has a hole.
const CORNER: [(&str, bool); 19] = [
    ("camber", true),
    ("caster", false),
    ("toe", true),
    ("ride-height", true),
    ("weight", true),
    ("spring-rate", true),
    ("helper-rate", false),
    ("preload", false),
    ("perch", false),
    ("track-bar", false),
    ("bump", false),
    ("high-bump", false),
    ("rebound", false),
    ("bump-stop-gap", false),
    ("tyre-cold", true),
    ("tyre-hot", true),
    ("tyre-circumference", false),
    ("tread", false),
    ("pad-thickness", false),
];

/// The same of an axle.
const BETWEEN: [&str; 10] = [
    "toe",
    "bar-hole",
    "bar-rate",
    "bar-diameter",
    "bar-wall",
    "diff-preload",
    "diff-ramp",
    "diff-plates",
    "pad-compound",
    "track",
];

/// Makes an axle.
pub(super) fn axle(making: &mut Making<'_, '_>, place: Place) -> Axle {
    let [left, right] = match place.corners() {
        [left, right] => [*left, *right],
        _ => [Place::LF, Place::RF],
    };
    let mut rows = Vec::new();
    for (name, must) in CORNER {
        let Some(id) = making.quantity(name) else { continue };
        match name {
            "tyre-hot" => rows.extend(hot(making, id, [left, right])),
            // Toe is stated of each wheel or of the axle.
            "toe" => rows.extend(row(making, id, [left, right], making.slot(id, place).is_none())),
            _ => rows.extend(row(making, id, [left, right], must)),
        }
        if name == "spring-rate" {
            rows.extend(benched(making, id, [left, right]));
        }
    }
    for id in body::own(making, Places::CORNER) {
        rows.extend(row(making, id, [left, right], false));
    }
    let cx = &making.tell.cx;
    Axle {
        name: cx.place(place),
        left: cx.place(left),
        right: cx.place(right),
        rows,
        between: between(making, place),
    }
}

/// A row; `None` where neither corner has a value and none is missed.
fn row(making: &mut Making<'_, '_>, id: QuantityId, corners: [Place; 2], must: bool) -> Option<PlanPair> {
    let spots = corners.map(|corner| at(making, id, corner));
    let spots = from_zero(making, id, corners, spots);
    if spots.iter().all(Option::is_none) && !must {
        return None;
    }
    let name = making.tell.cx.quantity(id).name.replace('-', " ");
    Some(pair(name, spots))
}

/// What counts from where it stood when the book began is nought where nothing has moved it, once something has elsewhere.
/// Not in a book that was cut for a reader: what moved it may have been another's.
fn from_zero(
    making: &Making<'_, '_>,
    id: QuantityId,
    corners: [Place; 2],
    spots: [Option<Spot>; 2],
) -> [Option<Spot>; 2] {
    let quantity = making.tell.cx.quantity(id);
    let moved =
        Some(()).filter(|()| quantity.nought(true).is_some() && !making.tell.is_cut()).and_then(|()| {
            let own = making.slots.iter().filter(|slot| slot.quantity == id);
            let moved = own.filter_map(|slot| Some((slot, slot.held.is(making.tell.cx.history)?)));
            moved.into_iter().find(|(_, event)| event.entry.is_some())
        });
    let Some((slot, event)) = moved else { return spots };
    let unit = value::value(making.tell, slot.track, &event).unit;
    let untouched = corners.map(|corner| making.slot(id, corner).is_none());
    let mut at = untouched.into_iter();
    spots.map(|spot| {
        if !at.next().unwrap_or(false) {
            return spot;
        }
        let zero = || ShownValue { text: "0".to_owned(), unit: unit.clone(), how: ValueOrigin::Derived };
        Some(spot.unwrap_or_else(|| making.said(zero(), &[])))
    })
}

fn pair(name: String, spots: [Option<Spot>; 2]) -> PlanPair {
    let [left, right] = spots.map(|spot| spot.unwrap_or_else(Spot::missing));
    share_unit(name, left, right)
}

/// Puts the unit into the head where both have it.
fn share_unit(name: String, mut left: Spot, mut right: Spot) -> PlanPair {
    let known = |spot: &Spot| (spot.value.how != ValueOrigin::Missing).then(|| spot.value.unit.clone());
    let unit = match (known(&left), known(&right)) {
        (Some(a), Some(b)) if a == b => a,
        (Some(unit), None) | (None, Some(unit)) => unit,
        _ => String::new(),
    };
    for spot in [&mut left, &mut right] {
        spot.own_unit = spot.value.unit != unit && !spot.value.unit.is_empty();
    }
    PlanPair { name, unit, left, right }
}

/// What stands at a corner: what was set or read, else the tag of the part that gives it; of the pads one that was not read is
/// worked out from the whole car, as the figures of them have it.
fn at(making: &mut Making<'_, '_>, id: QuantityId, corner: Place) -> Option<Spot> {
    if making.quantity("weight") == Some(id)
        && let Ok(fig) = making.calc.named("corner-weight", corner)
        && fig.status == Status::Inferred
    {
        let mut spot = making.figure(&fig);
        "inferred".clone_into(&mut spot.more);
        return Some(spot);
    }
    if let Some(slot) = making.slot(id, corner) {
        // What the car's own line states is its build, not its setup.
        let opening = slot.held.is(making.tell.cx.history).is_some_and(|event| event.entry.is_none());
        return (!opening).then(|| making.held(&slot));
    }
    let tag = making.tags.iter().find(|tag| tag.quantity == id && tag.place == corner)?;
    Some(making.tag(tag))
}

/// Two rows of hot pressures: what is asked for, and what was read here last, or anywhere.
fn hot(making: &mut Making<'_, '_>, id: QuantityId, corners: [Place; 2]) -> [PlanPair; 2] {
    let target = corners.map(|corner| {
        let slot = making.slot(id, corner)?;
        Some(making.event(&slot, &slot.held.asked?))
    });
    let (cx, circuit) = (making.tell.cx, making.when.circuit);
    let here = |entry: EntryId| {
        let event = cx.book.entries.get(entry).and_then(|entry| cx.book.head(entry)?.event);
        event.and_then(|event| cx.book.events.get(event)).and_then(|event| event.circuit)
    };
    let mut there = false;
    let read = corners.map(|corner| {
        let slot = making.slot(id, corner)?;
        let past = |event: &&crate::history::slots::SlotEvent| {
            event.register() == crate::history::slots::Register::Read
                && event.rank(&cx.history.order).is_some_and(|rank| rank < making.when.rank)
        };
        let local = slot
            .track
            .events
            .iter()
            .rev()
            .filter(past)
            .find(|event| circuit.is_some() && event.entry.and_then(here) == circuit);
        there |= local.is_some();
        let event = local.copied().or(slot.held.read)?;
        let mut spot = making.event(&slot, &event);
        // An old reading is no state of the car that a later change could spoil.
        spot.notes.clear();
        Some(spot)
    });
    let name = if there { "tyre hot, last here" } else { "tyre hot, last" };
    [pair("tyre hot, target".to_owned(), target), pair(name.to_owned(), read)]
}

/// What the springs of an axle measure on the bench, where one was there.
fn benched(making: &mut Making<'_, '_>, id: QuantityId, corners: [Place; 2]) -> Option<PlanPair> {
    let spots = corners.map(|corner| {
        let part = giving(making, id, corner)?;
        let mut spot = on_bench(making, "spring-rate", part, None)?;
        making.tell.cx.part(part).clone_into(&mut spot.more);
        Some(spot)
    });
    spots.iter().any(Option::is_some).then(|| pair("measured rate".to_owned(), spots))
}

/// The part in a place that gives a quantity.
fn giving(making: &Making<'_, '_>, id: QuantityId, place: Place) -> Option<PartId> {
    let cx = &making.tell.cx;
    let all = cx.on(making.when.car, making.when.rank).places();
    let gives = |kind: crate::book::model::KindId| {
        cx.book.kinds.get(kind).is_some_and(|kind| kind.gives.contains(&id))
    };
    all.into_iter().find(|there| there.place == place && gives(there.kind)).and_then(|there| there.part)
}

fn on_bench(making: &mut Making<'_, '_>, figure: &str, part: PartId, hole: Option<f64>) -> Option<Spot> {
    let before = making.calc.what_if.len();
    if let Some(hole) = hole {
        making.calc.suppose("bar-hole", Place::CAR, hole).ok()?;
    }
    making.calc.part = Some(part);
    let fig = making.calc.named(figure, Place::CAR);
    making.calc.part = None;
    making.calc.what_if.truncate(before);
    fig.ok().map(|fig| making.figure(&fig))
}

/// What lies between the corners of an axle.
fn between(making: &mut Making<'_, '_>, place: Place) -> Vec<PlanItem> {
    let mut list = Vec::new();
    for name in BETWEEN {
        let Some(id) = making.quantity(name) else { continue };
        if name == "bar-hole"
            && let Some(bar) = making.quantity("bar-rate")
            && let Some(part) = giving(making, bar, place)
        {
            list.push(bar_part(making, part));
        }
        let slot = making
            .slot(id, place)
            .filter(|slot| slot.held.is(making.tell.cx.history).is_none_or(|event| event.entry.is_some()));
        if let Some(slot) = slot {
            let spot = making.held(&slot);
            list.push(PlanItem::new(name, spot));
        }
        if name == "bar-hole" {
            list.extend(bar_rate(making, place));
        }
    }
    if let Ok(fig) = making.calc.named("stagger", place) {
        let spot = making.figure(&fig);
        list.push(PlanItem::new("stagger", spot));
    }
    list.extend(axle_parts(making, place));
    for id in body::own(making, Places::AXLE) {
        if let Some(slot) = making.slot(id, place) {
            let spot = making.held(&slot);
            let name = making.tell.cx.quantity(id).name.to_string();
            list.push(PlanItem::new(&name, spot));
        }
    }
    list
}

/// Which axle is fitted, where one is a part of its own as a kart's is: a kind with `axle` in its name or its title. One in a place that is of
/// neither end is the rear's.
fn axle_parts(making: &Making<'_, '_>, place: Place) -> Vec<PlanItem> {
    let cx = &making.tell.cx;
    let is_axle = |kind: crate::book::model::KindId| {
        let named = cx.book.kinds.get(kind).map(|kind| format!("{} {}", kind.named.typed, kind.named.title));
        named.is_some_and(|name| {
            name.to_lowercase().split(|one: char| !one.is_alphanumeric()).any(|word| word == "axle")
        })
    };
    let all = cx.on(making.when.car, making.when.rank).places();
    let here = all.into_iter().filter(|there| {
        is_axle(there.kind) && (there.place == place || place == Place::REAR && !there.place.is_axle())
    });
    here.filter_map(|there| Some(part(making, "axle", there.part?))).collect()
}

/// Which bar or blade is fitted.
fn bar_part(making: &Making<'_, '_>, part: PartId) -> PlanItem {
    self::part(making, "bar", part)
}

/// Which part is fitted, with its spec and serial.
fn part(making: &Making<'_, '_>, name: &str, part: PartId) -> PlanItem {
    let cx = &making.tell.cx;
    let stay = cx.history.parts.get(part).at(making.when.rank);
    let line = stay.and_then(|stay| making.tell.entry(stay.entry)).map(crate::book::entry::Entry::span);
    let text = ShownValue { text: cx.part(part).to_owned(), unit: String::new(), how: ValueOrigin::Set };
    let mut spot = making.said(text, line.as_slice());
    spot.when =
        stay.and_then(|stay| cx.date(stay.entry)).map_or_else(String::new, crate::report::words::short);
    spot.more = crate::report::section::parts::about(making.tell, part);
    PlanItem::new(name, spot)
}

/// Its rate on the bench in the hole it is in.
fn bar_rate(making: &mut Making<'_, '_>, place: Place) -> Option<PlanItem> {
    let part = giving(making, making.quantity("bar-rate")?, place)?;
    let hole = making.slot(making.quantity("bar-hole")?, place)?.held.is(making.tell.cx.history)?;
    let mut spot = on_bench(making, "bar-rate", part, Some(hole.value))?;
    "one end held".clone_into(&mut spot.more);
    Some(PlanItem::new("measured rate", spot))
}
