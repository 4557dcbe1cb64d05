//! What belongs to no axle: weights as a whole, fuel, fluids, brakes, gearing, aerodynamics, engine, tyres.
//!
//! Must not know corners.

use super::spot::{PlanItem, Spot};
use crate::book::entry::HeadId;
use crate::book::place::Place;
use crate::figures::calc::Fig;
use crate::history::slots::SlotEvent;
use crate::history::state::SlotState;
use crate::report::section::plan::making::Making;
use crate::report::section::value::{ShownValue, ValueOrigin};
use crate::report::words;
use crate::units::DimensionId;
use crate::vocabulary::{Places, QuantityId};
use serde::Serialize;

/// Values of one sort.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BodyGroup {
    /// "weights", "fuel".
    pub name: String,
    /// Under what conditions; may be empty.
    pub with: String,
    /// The values.
    pub items: Vec<PlanItem>,
}

/// The quantities of each group, in order, but for those with a rule of their own below.
const GROUPS: [(&str, &[&str]); 4] = [
    ("fuel", &["fuel", "fuel-grade", "ethanol"]),
    ("brakes", &["brake-bias", "balance-bar"]),
    ("aero", &["wing-angle", "gurney", "splitter-height", "rake"]),
    ("gearing", &["final-drive", "sprocket-front", "sprocket-rear"]),
];

/// The same of what nobody touches between sessions.
const AWAY: [(&str, &[&str]); 2] = [
    ("fluids", &[]),
    (
        "engine and clutch",
        &[
            "ignition",
            "rev-limit",
            "boost",
            "fuel-pressure",
            "engine-hours",
            "clutch-plates",
            "clutch-breakaway",
        ],
    ),
];

/// Makes the groups; one without values is left out.
pub(super) fn groups(making: &mut Making<'_, '_>) -> Vec<BodyGroup> {
    let mut groups = vec![weights(making)];
    for (name, quantities) in GROUPS {
        let mut items = of_cars(making, quantities);
        match name {
            "fuel" => items.extend(tyres(making)),
            "gearing" => items.extend(gears(making)),
            _ => {}
        }
        push(&mut groups, if name == "fuel" { "fuel and wheels" } else { name }, items);
    }
    groups
}

/// Makes the groups of what nobody touches between sessions, and of the shop's own quantities.
pub(super) fn away(making: &mut Making<'_, '_>) -> Vec<BodyGroup> {
    let mut groups = Vec::new();
    for (name, quantities) in AWAY {
        let mut items = of_cars(making, quantities);
        if name == "fluids" {
            items.extend(fluids(making));
        }
        push(&mut groups, name, items);
    }
    let own: Vec<PlanItem> =
        own(making, Places::CAR).into_iter().filter_map(|id| of_car(making, id)).collect();
    push(&mut groups, "the shop's own", own);
    groups
}

fn of_cars(making: &mut Making<'_, '_>, names: &[&str]) -> Vec<PlanItem> {
    names.iter().filter_map(|name| of_car(making, making.quantity(name)?)).collect()
}

fn push(groups: &mut Vec<BodyGroup>, name: &str, items: Vec<PlanItem>) {
    if !items.is_empty() {
        groups.push(BodyGroup { name: name.to_owned(), with: String::new(), items });
    }
}

/// The shop's own quantities at a class of place.
pub(super) fn own(making: &Making<'_, '_>, places: Places) -> Vec<QuantityId> {
    let all = making.tell.cx.book.vocabulary.iter();
    let own = all.filter(|(_, quantity)| quantity.declared.is_some() && quantity.places.has(places));
    own.map(|(id, _)| id).collect()
}

fn of_car(making: &mut Making<'_, '_>, id: QuantityId) -> Option<PlanItem> {
    let slot = making.slot(id, Place::CAR)?;
    let name = making.tell.cx.quantity(id).name.to_string();
    let spot = making.held(&slot);
    Some(PlanItem::new(&name, spot))
}

/// When and how a figure of the weights was read, where that is not the weighing that stands over the group: its date and fuel are not its.
fn of_other_day(making: &Making<'_, '_>, fig: &Fig, pads: Option<HeadId>) -> Option<String> {
    let (tell, nodes) = (making.tell, &making.calc.nodes);
    let line = |span| nodes.iter().find(|node| node.span == Some(span)).and_then(|node| node.entry);
    let newest = fig.typed().filter_map(line).max_by_key(|entry| tell.cx.rank(*entry))?;
    let entry = tell.entry(newest).filter(|entry| Some(entry.head) != pads)?;
    let date = tell.cx.date(newest).map_or_else(String::new, words::short);
    let with = tell.conditions(entry).join(", ");
    let with = if with.is_empty() { "no conditions stated".to_owned() } else { with };
    Some(format!("read {date}, {with}"))
}

/// What a share of the weight was set to since the pads were read, or without their being read.
fn asked(making: &mut Making<'_, '_>, name: &str) -> Option<Spot> {
    let slot = making.slot(making.quantity(name)?, Place::CAR)?;
    let order = &making.tell.cx.history.order;
    let is = slot.held.is(making.tell.cx.history);
    // What a line with a mistake set is not known, and the pads before it are as old.
    let set = slot.held.unknown.or(slot.held.asked.filter(|asked| Some(*asked) == is))?.rank(order)?;
    let weight = making.quantity("weight")?;
    let pads = Place::CORNERS.into_iter().filter_map(|corner| making.slot(weight, corner)?.held.read);
    let since = pads.filter_map(|read| read.rank(order)).all(|read| read < set);
    since.then(|| making.held(&slot))
}

/// Total and shares, and the conditions of the pads' line.
fn weights(making: &mut Making<'_, '_>) -> BodyGroup {
    let names = [
        ("total", "total-weight"),
        ("cross", "cross-weight"),
        ("front", "front-weight"),
        ("left", "left-weight"),
    ];
    let mut items = Vec::new();
    let pads = making.quantity("weight").and_then(|id| {
        making
            .tell
            .entry(making.slot(id, Place::LF)?.held.is(making.tell.cx.history)?.entry)
            .map(|line| line.head)
    });
    for (name, figure) in names {
        let spot = match making.calc.named(figure, Place::CAR) {
            Ok(fig) => {
                let mut spot = making.figure(&fig);
                spot.notes.extend(of_other_day(making, &fig, pads).map(|words| making.note(words)));
                spot
            }
            // Whatever is missing, all four wait for it.
            Err(missing) if items.is_empty() => {
                Spot { more: format!("needs {}", missing.needs.join("; ")), ..Spot::missing() }
            }
            Err(_) => Spot::missing(),
        };
        let asked = asked(making, figure);
        match asked.filter(|_| name != "total") {
            Some(asked) if spot.value.how == ValueOrigin::Missing => items.push(PlanItem::new(name, asked)),
            Some(asked) => {
                items.push(PlanItem::new(name, spot));
                items.push(PlanItem::new(&format!("{name}, set since"), asked));
            }
            None => items.push(PlanItem::new(name, spot)),
        }
    }
    let with = making.quantity("weight").and_then(|id| {
        let held = making.slot(id, Place::LF)?.held.is(making.tell.cx.history)?;
        let entry = making.tell.entry(held.entry)?;
        let date = making.tell.cx.date(held.entry).map_or_else(String::new, words::short);
        let with = making.tell.conditions(entry).join(", ");
        let with = if with.is_empty() { "no conditions stated".to_owned() } else { with };
        Some(format!("{date}, {with}").trim_start_matches(", ").to_owned())
    });
    if let Some(id) = making.quantity("ballast") {
        items.extend(of_car(making, id));
    }
    BodyGroup { name: "weights".to_owned(), with: with.unwrap_or_default(), items }
}

/// Every fluid, grade and amount as last filled.
fn fluids(making: &mut Making<'_, '_>) -> Vec<PlanItem> {
    let fluid = |slot: &&SlotState<'_>| {
        making.tell.cx.quantity(slot.quantity).dimension == DimensionId::FLUID && slot.place == Place::CAR
    };
    let ids: Vec<QuantityId> = making.slots.iter().filter(fluid).map(|slot| slot.quantity).collect();
    ids.into_iter()
        .filter_map(|id| of_car(making, id))
        .map(|mut item| {
            // A grade is a word with its amount: the unit stays beside it.
            item.spot.own_unit = !item.unit.is_empty();
            item.unit.clear();
            item
        })
        .collect()
}

/// All gears in one line.
fn gears(making: &mut Making<'_, '_>) -> Option<PlanItem> {
    let id = making.quantity("gear-ratio")?;
    let slots: Vec<SlotState<'_>> = making.slots.iter().filter(|slot| slot.quantity == id).copied().collect();
    let events: Vec<SlotEvent> =
        slots.iter().filter_map(|slot| slot.held.is(making.tell.cx.history)).collect();
    let last = events.iter().max_by_key(|event| event.rank(&making.tell.cx.history.order))?;
    let texts = slots.iter().map(|slot| {
        let event = slot.held.is(making.tell.cx.history);
        event.map_or_else(ShownValue::missing, |event| {
            crate::report::section::value::value(making.tell, slot.track, &event)
        })
    });
    let text = texts.map(|value| value.text).collect::<Vec<_>>().join(" · ");
    let spans: Vec<_> = slots
        .iter()
        .zip(&events)
        .map(|(slot, event)| crate::report::section::value::span(making.tell, slot.track, event))
        .collect();
    let mut spot = making.said(ShownValue { text, unit: String::new(), how: ValueOrigin::Set }, &spans);
    spot.when = making.tell.cx.date(last.entry).map_or_else(String::new, words::short);
    Some(PlanItem::new("gears", spot))
}

/// The set of tyres on the whole car, and how tight the wheels are.
fn tyres(making: &mut Making<'_, '_>) -> Vec<PlanItem> {
    let cx = &making.tell.cx;
    let mut items = Vec::new();
    for there in cx.on(making.when.car, making.when.rank).places() {
        let Some(part) = there.part.filter(|_| there.place == Place::ALL) else { continue };
        let stay = cx.history.parts.get(part).at(making.when.rank);
        let line = stay.and_then(|stay| making.tell.entry(stay.entry)).map(crate::book::entry::Entry::span);
        let value = ShownValue { text: cx.part(part).to_owned(), unit: String::new(), how: ValueOrigin::Set };
        let mut spot = making.said(value, line.as_slice());
        spot.more = crate::report::section::parts::life_words(making.tell, part, making.when.rank);
        let kind = cx.book.kinds.get(there.kind).map_or("", |kind| &kind.named.typed);
        items.push(PlanItem::new(kind, spot));
    }
    for name in ["wheel-torque", "hub-torque"] {
        let Some(id) = making.quantity(name) else { continue };
        let slots: Vec<_> =
            Place::CORNERS.into_iter().filter_map(|place| Some((place, making.slot(id, place)?))).collect();
        let spots: Vec<(Place, Spot)> =
            slots.into_iter().map(|(place, slot)| (place, making.held(&slot))).collect();
        let Some((_, first)) = spots.first() else { continue };
        if spots.len() == 4 && spots.iter().all(|(_, spot)| spot.value == first.value) {
            let mut first = first.clone();
            first.more.clear();
            items.push(PlanItem::new(name, first));
        } else if name == "wheel-torque" {
            for (place, spot) in spots {
                let name = format!("{name} {}", making.tell.cx.place(place));
                items.push(PlanItem::new(&name, spot));
            }
        }
    }
    items
}
