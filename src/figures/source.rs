//! Where the value of a formula's name is from: a quantity or figure at a place, a condition, the session, a stated number.
//!
//! Must not know any particular figure.

use super::bench;
use super::calc::{Calc, Fig, Got, Missing, Status};
use super::given::Stop;
use super::typed::Needs;
use crate::book::entry::{EntryId, Flags, Item};
use crate::book::figure::{Figure, FigureId, Line, Name, Sites, Source, Where};
use crate::book::model::Car;
use crate::book::place::Place;
use crate::history::slots::{Owner, may_touch};
use crate::units::{DimensionId, table};
use crate::vocabulary::QuantityId;

/// The values of a name at a place: one, or those of several places. The first of its sources that has one.
pub(super) fn name<'a>(
    calc: &mut Calc<'a>,
    figure: &Figure,
    name: &'a Name,
    place: Place,
    known: &dyn Fn(u16) -> Option<Fig>,
) -> Result<Vec<Fig>, Stop> {
    let mut first: Option<Missing> = None;
    // What the session's own line says of itself stands before what was read earlier.
    let own = name.sources.iter().find(|source| said_by_session(calc, source, &name.sources, place));
    for source in own
        .into_iter()
        .chain(name.sources.iter().filter(|source| !own.is_some_and(|own| std::ptr::eq(own, *source))))
    {
        // What the book says, but with an error, is not for a default to stand in for.
        if first.is_some() && matches!(source, Source::Number { .. }) && said(calc, &name.sources, place) {
            break;
        }
        match one(calc, figure, (&name.name, source), place, known) {
            Ok(figs) => {
                let air = match source {
                    Source::Value { quantity: Some(id), figure: None, .. } => is_air(calc, *id),
                    _ => false,
                };
                if air {
                    for fig in &figs {
                        of_another_day(calc, fig);
                    }
                }
                return Ok(figs);
            }
            Err(missing) => match &mut first {
                None => first = Some(missing),
                Some(first) => {
                    if let Source::With { key, of: None, .. } = source {
                        let words = format!(" (or `with {key} ...` on the session)");
                        first.needs.iter_mut().for_each(|need| need.push_str(&words));
                    }
                }
            },
        }
    }
    // Nor for another way to the figure, where it was read of the session.
    if let Some(lacks) = name.sources.iter().find_map(|source| unreadable(calc, source, place)) {
        return Err(Stop::Refused(lacks));
    }
    let mut missing = first.unwrap_or_default();
    if let Some(words) = &name.needs {
        // What is typed and cannot be used says so itself.
        for need in missing.needs.iter_mut().filter(|need| need.starts_with("a value of ")) {
            *need = words.replace("PLACE", &calc.book.place_word(place));
        }
        missing.needs.dedup();
    }
    Err(Stop::Lacks(missing))
}

/// Whether a source is a condition on the line of the session at hand, and another source of the name was read before that session.
fn said_by_session(calc: &Calc<'_>, source: &Source, all: &[Source], here: Place) -> bool {
    let Source::With { key, of: None, .. } = source else { return false };
    let Ok(session) = calc.session_now() else { return false };
    let line = calc.book.entries.get(session.entry).and_then(|line| calc.book.extra(line));
    let says = line.is_some_and(|extra| {
        extra.conditions.iter().any(|one| calc.files.text(one.key).eq_ignore_ascii_case(key))
    });
    let began = session.rank;
    let earlier = |source: &Source| {
        let Source::Value { quantity: Some(id), at, .. } = source else { return false };
        let places = places(calc, *at, here).unwrap_or_default();
        places.into_iter().filter_map(|place| calc.state(*id, place)).any(|slot| {
            let held = slot.held.is(calc.history);
            held.is_some_and(|event| event.rank(&calc.history.order).is_none_or(|rank| rank < began))
        })
    };
    says && all.iter().any(earlier)
}

/// Whether a quantity is of the air: what was read of it is of its day and circuit.
fn is_air(calc: &Calc<'_>, id: QuantityId) -> bool {
    let area = calc.book.vocabulary.areas.get(calc.book.vocabulary.get(id).area as usize);
    area.is_some_and(|area| &**area == "air")
}

/// Says of air that was read on another day, or at another circuit, than the session at hand that it was.
fn of_another_day(calc: &mut Calc<'_>, fig: &Fig) {
    let Ok(session) = calc.session_now() else { return };
    let (then, there) = (session.date, session.event);
    let label = calc.files.text(session.label).to_owned();
    let Some(entry) = calc.nodes.get(fig.node).and_then(|node| node.entry) else { return };
    let Some(date) = calc.history.order.date(calc.book, entry) else { return };
    let circuit = |event| calc.book.events.get(event).and_then(|event| event.circuit);
    let event = calc.book.entries.get(entry).and_then(|line| calc.book.head(line)?.event);
    let elsewhere = there.zip(event).is_some_and(|(there, event)| circuit(there) != circuit(event));
    if date == then && !elsewhere {
        return;
    }
    let place = if elsewhere { ", at another circuit" } else { "" };
    let words = format!("out of date: read on {date}{place}; {label} ran on {then}");
    calc.cautions.insert(fig.node, words.into());
}

/// What a reading of the session at hand lacks, where a line that may be it has an error.
fn unreadable(calc: &Calc<'_>, source: &Source, here: Place) -> Option<Missing> {
    let Source::Value { quantity: Some(id), line: Line::InSession, name, at, .. } = source else {
        return None;
    };
    let places = places(calc, *at, here).ok()?;
    let session = calc.session_now().ok()?;
    let lines = calc.history.slots.lost_of(Owner::Car(calc.car?), *id).iter();
    // Of which session it is, its error may hide.
    let of_it = |line: &EntryId| match calc.history.during(calc.book, *line) {
        Some(run) => run == session.entry,
        None => calc.history.order.rank.get(*line).is_some_and(|rank| *rank > session.rank),
    };
    let label = calc.files.text(session.label);
    let about = |line: EntryId| places.iter().any(|place| may_touch(calc.book, line, *place));
    lines.copied().any(|line| about(line) && of_it(&line)).then(|| {
        Missing::one(format!("the reading of {name} during {label} put right (its line has an error)"))
    })
}

/// Whether the book says something of a name's quantity, even if it cannot be used.
fn said(calc: &Calc<'_>, sources: &[Source], here: Place) -> bool {
    sources.iter().any(|source| match source {
        Source::Value { quantity: Some(id), at, .. } => places(calc, *at, here).is_ok_and(|places| {
            // Before its first line nothing is said of it yet.
            let slots = places.iter().filter_map(|place| calc.state(*id, *place));
            slots.map(|slot| slot.held).any(|held| held.unknown.is_some() || held.is(calc.history).is_some())
        }),
        _ => false,
    })
}

fn one<'a>(
    calc: &mut Calc<'a>,
    figure: &Figure,
    (local, source): (&str, &'a Source),
    place: Place,
    known: &dyn Fn(u16) -> Option<Fig>,
) -> Got<Vec<Fig>> {
    match source {
        Source::Value { name, quantity, figure: other, line, part, at } => {
            if figure.sites == Sites::Part {
                return of_part(calc, name, *other).map(|fig| vec![fig]);
            }
            let mut needs = Needs::default();
            let mut figs = Vec::new();
            let places = places(calc, *at, place)?;
            for place in &places {
                figs.extend(needs.take(value(
                    calc,
                    (local, name),
                    (*quantity, *other),
                    (*line, *part),
                    *place,
                )));
            }
            if figs.len() == places.len() { Ok(figs) } else { Err(needs.missing()) }
        }
        Source::With { key, dimension, of } => with(calc, key, *dimension, *of, known).map(|fig| vec![fig]),
        Source::Cylinders | Source::Gears | Source::ToeOver => stated(calc, source).map(|fig| vec![fig]),
        Source::SessionLaps | Source::SessionTime => {
            let run = calc.session_now()?.entry;
            let laps = matches!(source, Source::SessionLaps);
            if laps { calc.laps_of(run) } else { calc.running_of(run) }.map(|fig| vec![fig])
        }
        Source::Number { si, dimension, points, words, source, assumed } => {
            let fig = if *assumed {
                calc.default(words, *si, *dimension, source)
            } else {
                calc.constant(words, *si, *dimension, source)
            };
            // Kelvin may be a difference, so in kelvin it is shown.
            if points.is_none()
                && let Some(node) = calc.nodes.get_mut(fig.node)
            {
                node.unit = table().find_one("K", *dimension);
                node.decimals = 2;
            }
            Ok(vec![fig])
        }
    }
}

/// The places that a word means, seen from where the figure is.
fn places(calc: &Calc<'_>, at: Where, here: Place) -> Got<Vec<Place>> {
    let axle = |place: Place| place.axle().unwrap_or(Place::REAR);
    let one = match at {
        Where::Here => here,
        Where::At(place) => place,
        Where::Left | Where::Right => {
            let corners = axle(here).corners();
            corners.get(usize::from(at == Where::Right)).copied().unwrap_or(here)
        }
        Where::Axle => axle(here),
        Where::OtherAxle if axle(here) == Place::FRONT => Place::REAR,
        Where::OtherAxle => Place::FRONT,
        Where::Across => here.other_side().unwrap_or(here),
        Where::Next => here.gear_number().map_or(here, |number| Place::gear(number + 1)),
        Where::EachCorner => return Ok(Place::CORNERS.to_vec()),
        Where::EachDriven => return driven(calc),
        Where::EachCylinder => {
            let car = calc.declared();
            let count = car.and_then(|car| car.cylinders);
            let count = count.ok_or_else(|| Missing::one("`cylinders` on the car's declaration"))?;
            return Ok((1..=count).map(Place::cylinder).collect());
        }
    };
    Ok(vec![one])
}

fn driven(calc: &Calc<'_>) -> Got<Vec<Place>> {
    let corners = calc.declared().and_then(Car::driven);
    let corners = corners
        .ok_or_else(|| Missing::one("`drive front`, `drive rear` or `drive all` on the car's declaration"))?;
    Ok(corners.to_vec())
}

fn value(
    calc: &mut Calc<'_>,
    (local, name): (&str, &str),
    (quantity, figure): (Option<QuantityId>, Option<FigureId>),
    (line, part): (Line, u8),
    place: Place,
) -> Got {
    if part > 0 {
        return part_of(calc, (local, name), quantity, place, part);
    }
    match (line, quantity, figure) {
        (Line::Read, ..) => calc.reading(name, place),
        (Line::Set, ..) => calc.asked(name, place),
        (Line::InSession, ..) => {
            let run = calc.session_now()?.entry;
            let supposed = quantity.and_then(|id| calc.instead(id, place));
            supposed.map_or_else(|| calc.reading_during(name, place, run).map(|(fig, _)| fig), Ok)
        }
        (Line::Typed, ..) => calc.typed_value(name, place),
        (Line::Any, _, Some(figure)) => calc.figure(figure, place),
        (Line::Any, ..) => calc.value(name, place),
    }
}

/// The first, second or third number typed at a place.
fn part_of(
    calc: &mut Calc<'_>,
    (local, name): (&str, &str),
    quantity: Option<QuantityId>,
    place: Place,
    part: u8,
) -> Got {
    let typed = calc.typed(name, place)?;
    let further = calc.parts_of(&typed, name);
    let teeth = quantity.is_some_and(|id| calc.book.vocabulary.get(id).dimension == DimensionId::RATIO);
    let item = match (part, further.first()) {
        (0 | 1, Some(driving)) if teeth => {
            Some(Item { si: typed.item.driven_teeth(driving), decimals: 0, ..typed.item })
        }
        (0 | 1, _) => Some(typed.item),
        _ => further.get(usize::from(part) - 2).copied(),
    };
    let which = match part {
        0 | 1 => "first",
        2 => "second",
        _ => "third",
    };
    let wanted = || Missing::one(format!("the {which} number of {}", typed.name));
    let item = item.filter(|item| !item.is(Flags::OFF)).ok_or_else(wanted)?;
    let entry = typed.entry.ok_or_else(wanted)?;
    let dimension = quantity.map_or(DimensionId::RATIO, |id| calc.book.vocabulary.get(id).dimension);
    let mut fig = calc.item(format!("{local} {}", typed.name), entry, &item, dimension);
    fig.status = typed.status;
    if let Some(node) = calc.nodes.get_mut(fig.node) {
        node.status = typed.status;
    }
    Ok(fig)
}

/// What a part says of a quantity: another figure of the part, else its bench, else its tag.
fn of_part(calc: &mut Calc<'_>, name: &str, figure: Option<FigureId>) -> Got {
    match figure.filter(|id| calc.book.figures.get(*id).sites == Sites::Part) {
        Some(figure) => calc.figure(figure, Place::CAR),
        None => bench::of_the_part(calc, name),
    }
}

/// A condition: of the line that gave a name its value, or of the session.
fn with(
    calc: &mut Calc<'_>,
    key: &str,
    dimension: DimensionId,
    of: Option<u16>,
    known: &dyn Fn(u16) -> Option<Fig>,
) -> Got {
    let entry = match of {
        None => calc.session_now()?.entry,
        Some(at) => {
            let fig = known(at).ok_or_else(|| Missing::one(format!("a line with {key}")))?;
            let line = calc.nodes.get(fig.node).and_then(|node| node.entry);
            line.ok_or_else(|| Missing::one(format!("a dated line with {key}")))?
        }
    };
    let fig = calc.condition(entry, key, dimension)?;
    let unit = calc.nodes.get(fig.node).and_then(|node| node.unit);
    let fits = unit.is_some_and(|unit| dimension.get().dims().contains(&unit.get().dim));
    if fits {
        return Ok(fig);
    }
    let usual = dimension.get().usual.first().copied().unwrap_or_default();
    Err(Missing::one(format!("{key} as a {}, such as in {usual}", dimension.name())))
}

/// A property of the car's declaration.
fn stated(calc: &mut Calc<'_>, source: &Source) -> Got {
    let car = calc.declared();
    let (value, dimension, words, wants) = match source {
        Source::Cylinders => (
            car.and_then(|car| car.cylinders).map(f64::from),
            DimensionId::COUNT,
            "cylinders of the car",
            "`cylinders` on the car's declaration",
        ),
        Source::Gears => (
            car.and_then(|car| car.gears).map(f64::from),
            DimensionId::COUNT,
            "gears of the car",
            "`gears` on the car's declaration",
        ),
        _ => (
            car.and_then(|car| car.toe_over),
            DimensionId::LENGTH,
            "where toe is measured",
            "`toe-over` on the car's declaration",
        ),
    };
    let value = value.ok_or_else(|| Missing::one(wants))?;
    let fig = calc.constant(words, value, dimension, "the car's declaration");
    if dimension == DimensionId::COUNT
        && let Some(node) = calc.nodes.get_mut(fig.node)
    {
        node.unit = Some(table().plain());
    }
    debug_assert_eq!(fig.status, Status::Stated);
    Ok(fig)
}
