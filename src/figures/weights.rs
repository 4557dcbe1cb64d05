//! What the pads read: one state of the car from one line, a pad that was not read worked out; how the car then stood.
//!
//! The figures of them are arithmetic, in `grammar/figures.sline`. Must not know springs.

use super::calc::{Calc, Fig, Got, Missing, Status};
use super::code::Code;
use super::formula::Formula;
use super::roll::{Bar, bar};
use crate::book::entry::{EntryId, Flags, Verb};
use crate::book::place::Place;
use crate::history::likeness::{self, Reading};
use crate::history::order::Rank;
use crate::history::slots::{Register, SlotEvent};
use crate::units::DimensionId;

/// What the program works out.
pub const FIGURES: &[Code] = &[
    ("corner-weight", corner),
    ("fuel-on-pads", |calc, _| {
        let entry = line_of_pads(calc)?;
        fuel_on_the_pads(calc, entry)
    }),
    ("fuel-at-start", at_start),
    ("weight-as-it-came-in", came_in),
    ("pads-with-bars", with_bars),
];

const FOURTH: Formula = Formula {
    id: "fourth-pad",
    name: "weight not read",
    expression: "total - a - b - c",
    source: "common practice",
    convention: "inferred: the whole car on one scale less the other three pads, at the same conditions",
    dimension: DimensionId::WEIGHT,
    shown: "",
    show: [None, None],
};
/// The newest line that read a pad.
fn line_of_pads(calc: &Calc<'_>) -> Got<EntryId> {
    let id = calc.quantity("weight")?;
    let newest = Place::CORNERS
        .iter()
        .filter_map(|corner| calc.state(id, *corner)?.held.read)
        .max_by_key(|event| event.rank(&calc.history.order));
    newest
        .and_then(|event| event.entry)
        .ok_or_else(|| Missing::one("a reading of weight at the four corners"))
}

/// The four pads of the last line that read them: one state of the car, never a mixture of days. One that was not read is
/// worked out where the same block states the total.
fn pads(calc: &mut Calc<'_>) -> Got<[Fig; 4]> {
    let id = calc.quantity("weight")?;
    let entry = line_of_pads(calc)?;
    let items = calc.book.items_of(&calc.book.entries[entry]);
    let read = |corner: Place| {
        items.iter().any(|item| item.place == corner && item.has_value() && !item.is(Flags::OLD))
    };
    let unread: Vec<Place> = Place::CORNERS.into_iter().filter(|corner| !read(*corner)).collect();
    let mut needs: Vec<String> = unread
        .iter()
        .map(|corner| format!("{} on the same line as the others", calc.slot_name(id, *corner)))
        .collect();
    let total = match unread.as_slice() {
        [] => None,
        [_] => stated_total(calc, entry),
        _ => return Err(Missing { needs }),
    };
    if unread.len() == 1 && total.is_none() {
        needs[0].push_str(", or total-weight read in the same block");
        return Err(Missing { needs });
    }
    let mut pads = Vec::new();
    for corner in Place::CORNERS {
        if read(corner) {
            pads.push(calc.reading("weight", corner)?);
        }
    }
    if let ([missing], Some(total), [a, b, c]) = (unread.as_slice(), &total, pads.as_slice()) {
        let inputs = [("total", total), ("a", a), ("b", b), ("c", c)];
        let fourth = calc.derive_as(&FOURTH, *missing, &inputs, Some(Status::Inferred), |w| {
            &w[0] - &w[1] - &w[2] - &w[3]
        })?;
        if fourth.value <= 0.0 {
            return Err(Missing::one("a total-weight above the three pads together"));
        }
        let at = Place::CORNERS.iter().position(|corner| corner == missing).unwrap_or(0);
        pads.insert(at, fourth);
    }
    pads.try_into().map_err(|_| Missing::one("a reading of weight at the four corners"))
}

/// The total read in the same block as the pads: the last of them there, whatever was read of it since.
fn stated_total(calc: &mut Calc<'_>, pads: EntryId) -> Option<Fig> {
    let id = calc.quantity("total-weight").ok()?;
    let slot = calc.state(id, Place::CAR)?;
    let rank = |event: &SlotEvent| event.rank(&calc.history.order);
    let (until, block) = (calc.rank_of(id), calc.book.entries.get(pads)?.head);
    let there = |event: &&SlotEvent| event.line(calc.book).is_some_and(|line| line.head == block);
    let before = slot.track.events.iter().rev().filter(|event| rank(event).is_some_and(|at| at < until));
    let event = *before.filter(|event| event.register() != Register::Asked).find(there)?;
    if event.register() == Register::Unknown {
        return None;
    }
    let reading = Reading { quantity: id, place: Place::CAR, entry: event.entry?, owner: slot.track.owner };
    let mut changes = likeness::changes(calc.facts, calc.car?, reading, [rank(&event)?, until]);
    let stale = changes.next().map(|change| change.entry);
    calc.event(id, Place::CAR, &slot, event, stale).ok()
}

fn corner(calc: &mut Calc<'_>, place: Place) -> Got {
    super::springs::corner(place)?;
    let at = Place::CORNERS.iter().position(|corner| *corner == place).unwrap_or(0);
    pads(calc).map(|pads| pads[at].clone())
}

/// The fuel that the pads' line states, as a volume.
fn fuel_on_the_pads(calc: &mut Calc<'_>, entry: EntryId) -> Got {
    let then = calc.condition(entry, "fuel", DimensionId::VOLUME)?;
    let unit = calc.nodes.get(then.node).and_then(|node| node.unit);
    if unit.is_none_or(|unit| unit.get().dim != DimensionId::VOLUME.get().dim) {
        return Err(Missing::one("the fuel on the weight line as a volume, such as `with fuel 20 L`"));
    }
    Ok(then)
}

/// The fuel aboard as the session began: what is left of what was filled after the car was weighed, else as weighed.
fn at_start(calc: &mut Calc<'_>, _: Place) -> Got {
    let pads = line_of_pads(calc)?;
    let run = calc.session_now()?.rank;
    let id = calc.quantity("fuel")?;
    let weighed = calc.history.order.rank.get(pads).copied().unwrap_or(Rank::END);
    let filled = calc.state(id, Place::CAR).is_some_and(|slot| {
        let ranks = slot.track.events.iter().filter_map(|event| event.rank(&calc.history.order));
        ranks.filter(|rank| *rank < run).any(|rank| rank > weighed)
    });
    if filled { super::fuel::aboard(calc, run) } else { fuel_on_the_pads(calc, pads) }
}

/// The total, where its line stands under a session or after one.
fn came_in(calc: &mut Calc<'_>, _: Place) -> Got {
    let line = calc.book.entries[line_of_pads(calc)?];
    let above = line.parent.and_then(|above| calc.book.entries.get(above));
    let came_in = above.is_some_and(|above| above.verb == Verb::Run)
        || calc.book.extra(&line).is_some_and(|extra| extra.after.is_some());
    if came_in {
        calc.named("total-weight", Place::CAR)
    } else {
        Err(Missing::one("a weight read after the session"))
    }
}

/// 1 where the car was weighed with its bars on, 0 where off or where it has none.
fn with_bars(calc: &mut Calc<'_>, _: Place) -> Got {
    let source = "what the pads' line or the car's reference says of the bars";
    let line = line_of_pads(calc)?;
    let said = calc.book.entries.get(line).and_then(|line| likeness::bars(calc.facts, line));
    if said.is_none() {
        for axle in [Place::FRONT, Place::REAR] {
            if !matches!(bar(calc, axle), Ok(Bar::Off | Bar::None)) {
                return Err(Missing::one(
                    "`with bars off` (or `bars on`) on the weight line, or the car's reference",
                ));
            }
        }
    }
    let on = said.unwrap_or(false);
    let (words, value) =
        if on { ("weighed with its bars on", 1.0) } else { ("weighed with its bars off", 0.0) };
    Ok(calc.constant(words, value, DimensionId::RATIO, source))
}
