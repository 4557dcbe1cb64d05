//! The sheet for the alignment bay: what was left last, what was found since, boxes to write in, and the line to type from it.
//!
//! Must not know what a turn is worth, nor whether something moved ([`super::since_left`]).

use super::balance::{self, ShownBalance};
use super::frame::{self, Frame};
use super::link::Link;
use super::value::{self, ShownValue};
use super::{since_left, stops, whose};
use crate::answer::worth;
use crate::book::entry::{By, Verb};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::history::slots::{Register, SlotEvent};
use crate::history::state::SlotState;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::sources;
use crate::report::teller::Teller;
use crate::report::words;
use crate::vocabulary::QuantityId;
use serde::Serialize;

/// The sheet for the alignment bay.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AlignmentSheet {
    /// Title and footer.
    pub frame: Frame,
    /// Other pages about the car.
    pub links: Vec<Link>,
    /// "as its last line left it, 3 October 2026".
    pub state: String,
    /// The conditions that its readings are taken under, as the car is declared: to be ticked off.
    pub conditions: Vec<String>,
    /// What stood on the pads as the perches were turned last, and what should; none where nobody turned one from a weighing, and no other
    /// cross is asked.
    pub balance: Option<ShownBalance>,
    /// What is measured, quantity by quantity.
    pub blocks: Vec<AlignmentBlock>,
}

/// A quantity.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AlignmentBlock {
    /// Its name.
    pub name: String,
    /// The unit, where all have the same.
    pub unit: String,
    /// Its places: four corners, two axles, or the car.
    pub cells: Vec<AlignmentCell>,
    /// Whether anything was found since it was left.
    pub found: bool,
    /// Whether it moved since, or was set: "RF moved +0.5 deg, 5 gauge widths, since 4 Apr (743 km, no impact between)", "the others as left".
    pub since: Vec<String>,
    /// The line to type, with gaps: "left camber LF … RF … LR … RR … deg by cg-1".
    pub line: String,
    /// The lines of what is shown.
    pub src: String,
}

/// A place.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AlignmentCell {
    /// "LF", "front"; empty for the car.
    pub place: String,
    /// How many of the four columns it takes.
    pub span: u8,
    /// What it was left at last, or read where it was never left.
    pub last: ShownValue,
    /// "left 3 Sep", "read 22 Mar"; empty where nothing was.
    pub when: String,
    /// What was found since; none where nothing was.
    pub found: Option<ShownValue>,
}

/// Areas of what is measured on the flat.
const AREAS: [&str; 2] = ["alignment", "weights"];

/// What every car is measured for at its corners, whether it was before or not.
const ALWAYS: [&str; 4] = ["camber", "toe", "ride-height", "weight"];

/// The title of the page.
pub(in crate::report) fn title(tell: &Teller<'_>, car: CarId) -> String {
    let title = tell.cx.book.cars.get(car).map_or("?", |car| car.named.title.as_str());
    format!("{title}: on the flat")
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>, car: CarId) -> AlignmentSheet {
    let tell = desk.tell;
    let cx = &tell.cx;
    let end = cx.history.order.entries.next_key();
    let slots = cx.on(car, end).slots();
    let book = cx.book;
    let area = |id: QuantityId| {
        let area = book.vocabulary.get(id).area as usize;
        book.vocabulary.areas.get(area).map(AsRef::<str>::as_ref)
    };
    let measured = |slot: &SlotState<'_>| {
        let in_area = area(slot.quantity).is_some_and(|area| AREAS.contains(&area));
        in_area
            && slot
                .track
                .events
                .iter()
                .any(|event| event.register() == Register::Read && event.entry.is_some())
    };
    let mut names: Vec<QuantityId> = ALWAYS.iter().filter_map(|name| book.vocabulary.find(name)).collect();
    for slot in slots.iter().filter(|slot| measured(slot)) {
        if !names.contains(&slot.quantity) {
            names.push(slot.quantity);
        }
    }
    let links = [Key::Now(car)]
        .into_iter()
        .chain(stops::ahead(tell, car).first().map(|event| Key::Sheet(car, *event)));
    let declared = book.cars.get(car);
    let conditions = declared.map_or_else(Vec::new, |car| {
        car.reference.iter().map(|condition| tell.condition(condition)).collect()
    });
    AlignmentSheet {
        frame: frame::frame(tell, title(tell, car), whose::subtitle(tell, car), Some(car)),
        links: links.filter_map(|key| desk.table.link(key)).collect(),
        state: stops::as_left(tell, car),
        conditions,
        balance: balance::view(tell, car, end, &worth::build(tell.compiled, car, end)),
        blocks: names.into_iter().filter_map(|id| block(tell, car, id, &slots)).collect(),
    }
}

/// One quantity at its places.
fn block(tell: &Teller<'_>, car: CarId, id: QuantityId, slots: &[SlotState<'_>]) -> Option<AlignmentBlock> {
    let cx = &tell.cx;
    let own: Vec<&SlotState<'_>> = slots.iter().filter(|slot| slot.quantity == id).collect();
    let of = |place: Place| own.iter().find(|slot| slot.place == place).copied();
    // An axle is told as a whole where it was read so, else by its corners.
    let axle = |axle: Place| match of(axle) {
        Some(_) => vec![(axle, 2)],
        None => axle.corners().iter().map(|corner| (*corner, 1)).collect(),
    };
    let places: Vec<(Place, u8)> = match of(Place::CAR) {
        Some(_) => vec![(Place::CAR, 4)],
        None => [axle(Place::FRONT), axle(Place::REAR)].concat(),
    };
    let mut spans = Vec::new();
    let mut gauge = None;
    let mut any = false;
    let (mut cells, mut since) = (Vec::new(), Vec::new());
    for (place, span) in places {
        let read = of(place);
        let mut cell = AlignmentCell {
            place: cx.place(place),
            span,
            last: ShownValue::missing(),
            when: String::new(),
            found: None,
        };
        // What it stood at last nobody knows after a line that cannot be read, or not by this reader.
        if let Some(line) = read.and_then(|slot| slot.held.unknown).and_then(|event| event.entry) {
            any = true;
            cell.when = format!("not known since {}", tell.src_of(line));
        } else if let Some(slot) = read {
            let (left, found) = last(tell, slot);
            since.extend(
                left.zip(found).and_then(|(left, found)| since_left::of(tell, car, slot, [left, found])),
            );
            if let Some(event) = left {
                any = true;
                cell.last = value::value(tell, slot.track, &event);
                let entry = tell.entry(event.entry);
                let word =
                    if entry.is_some_and(|entry| entry.verb == Verb::Left) { "as left" } else { "read" };
                let date = cx.date(event.entry).map_or_else(String::new, words::short);
                format!("{word} {date}").trim_end().clone_into(&mut cell.when);
                spans.push(value::span(tell, slot.track, &event));
                gauge = entry.map(|entry| entry.by).filter(|by| matches!(by, By::Gauge(_))).or(gauge);
            }
            if let Some(event) = found {
                any = true;
                cell.found = Some(value::value(tell, slot.track, &event));
                spans.push(value::span(tell, slot.track, &event));
            }
        }
        cells.push(cell);
    }
    let what = cx.quantity(id);
    if !any && !ALWAYS.contains(&what.name.as_ref()) {
        return None;
    }
    let mut units: Vec<&str> =
        cells.iter().map(|cell| cell.last.unit.as_str()).filter(|unit| !unit.is_empty()).collect();
    units.dedup();
    let unit = match units.as_slice() {
        [one] => (*one).to_owned(),
        _ => String::new(),
    };
    let by = gauge.and_then(|by| match by {
        By::Gauge(id) => cx.book.gauges.get(id).map(|gauge| format!(" by {}", gauge.named.typed)),
        _ => None,
    });
    let gaps: Vec<String> =
        cells.iter().map(|cell| format!("{} …", cell.place).trim_start().to_owned()).collect();
    let imperial = cx.book.cars.get(car).is_some_and(|car| car.imperial);
    let told = if unit.is_empty() {
        what.show
            .get(usize::from(imperial))
            .copied()
            .flatten()
            .map_or("", |unit| unit.get().shown())
            .to_owned()
    } else {
        unit.clone()
    };
    Some(AlignmentBlock {
        name: what.name.replace('-', " "),
        since: since_left::told(&since),
        found: cells.iter().any(|cell| cell.found.is_some()),
        line: format!("left {} {} {told}{}", what.name, gaps.join(" "), by.unwrap_or_default()),
        unit,
        cells,
        src: sources::lines(cx.files, spans),
    })
}

/// What it was left at last (read, where it was never left), and what was found, or only read, since.
fn last(tell: &Teller<'_>, slot: &SlotState<'_>) -> (Option<SlotEvent>, Option<SlotEvent>) {
    let order = &tell.cx.history.order;
    let verb = |event: &SlotEvent| tell.entry(event.entry).map(|entry| entry.verb);
    let read: Vec<SlotEvent> = slot
        .track
        .events
        .iter()
        .filter(|event| event.register() == Register::Read && event.rank(order).is_some())
        .copied()
        .collect();
    let left = read.iter().rposition(|event| verb(event) == Some(Verb::Left));
    let found = read.iter().any(|event| verb(event) == Some(Verb::Found));
    let since = read.iter().rposition(|event| matches!(verb(event), Some(Verb::Found | Verb::Read)));
    let since = since.filter(|at| left.is_none_or(|left| *at > left));
    match (left, since) {
        (Some(left), since) => (read.get(left).copied(), since.and_then(|at| read.get(at)).copied()),
        (None, Some(at)) if found => {
            (read.get(..at).and_then(<[SlotEvent]>::last).copied(), read.get(at).copied())
        }
        (None, _) => (read.last().copied(), None),
    }
}
