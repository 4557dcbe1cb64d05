//! How each setting moved over a season: where it stood, every line that set it to something else, and why.
//!
//! Must not know readings beyond where a setting stood.

use super::setup::{SetupCell, cells};
use super::value::{self, ShownValue, ValueOrigin};
use crate::book::entry::{EntryId, Verb};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::parts::Where;
use crate::history::slots::{Owner, Register, SlotEvent, Track};
use crate::report::teller::Teller;
use crate::source::Span;
use crate::vocabulary::QuantityId;
use serde::Serialize;

/// One quantity that moved.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Moved {
    /// Its name.
    pub name: String,
    /// Its area.
    pub area: String,
    /// The unit, where all steps have the same.
    pub unit: String,
    /// Whether any step has corners or axles.
    pub corners: bool,
    /// The steps; the first says where it stood.
    pub steps: Vec<MovedStep>,
}

/// One line's new values.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MovedStep {
    /// When, in words.
    pub when: String,
    /// The unit of the row.
    pub unit: String,
    /// Four columns.
    pub cells: Vec<SetupCell>,
    /// Why.
    pub because: String,
    /// Its line.
    pub src: String,
}

#[derive(Debug)]
struct Move {
    quantity: QuantityId,
    place: Place,
    rank: Rank,
    entry: EntryId,
    before: ShownValue,
    before_at: Span,
    value: ShownValue,
}

/// Every setting that moved between two ranks, in order of area and quantity.
pub(in crate::report) fn moves(tell: &Teller<'_>, car: CarId, from: Rank, until: Rank) -> Vec<Moved> {
    let cx = &tell.cx;
    let mut all: Vec<Move> = Vec::new();
    for track in cx.history.slots.of(Owner::Car(car)) {
        of_track(tell, track, track.place, from, until, &mut all);
    }
    for part in cx.history.parts.ever_on(car).iter().copied() {
        for stay in &cx.history.parts.get(part).stays {
            if let Where::Car(on, place) = stay.at
                && on == car
            {
                for track in cx.history.slots.of(Owner::Part(part)) {
                    of_track(tell, track, place, from.max(stay.from), until.min(stay.until), &mut all);
                }
            }
        }
    }
    all.sort_by_key(|one| (cx.quantity(one.quantity).area, one.quantity, one.rank, one.entry, one.place));
    let mut result: Vec<Moved> = Vec::new();
    let mut rest = all.as_slice();
    while let Some(first) = rest.first() {
        let quantity = first.quantity;
        let end = rest.iter().position(|one| one.quantity != quantity).unwrap_or(rest.len());
        let (here, after) = rest.split_at(end);
        rest = after;
        let what = cx.quantity(quantity);
        let mut steps = steps(tell, car, here);
        let unit = steps.first().map_or_else(String::new, |step| step.unit.clone());
        let shared = steps.iter().all(|step| step.unit == unit);
        if shared {
            for step in &mut steps {
                step.unit.clear();
            }
        }
        result.push(Moved {
            unit: if shared { unit } else { String::new() },
            corners: here.iter().any(|one| one.place.is_corner() || one.place.is_axle()),
            name: what.name.replace('-', " "),
            area: cx
                .book
                .vocabulary
                .areas
                .get(what.area as usize)
                .map_or_else(String::new, ToString::to_string),
            steps,
        });
    }
    result
}

fn of_track(tell: &Teller<'_>, track: &Track, place: Place, from: Rank, until: Rank, all: &mut Vec<Move>) {
    let cx = &tell.cx;
    let mut before: Option<SlotEvent> = None;
    for event in &track.events {
        let was = before.replace(*event);
        let Some(index) = event.entry else { continue };
        let Some(entry) = tell.entry(index) else { continue };
        let rank = cx.rank(index);
        if rank < from || rank >= until || !matches!(entry.verb, Verb::Set | Verb::Adjust) {
            continue;
        }
        let Some(was) = was.filter(|was| was.register() != Register::Unknown) else { continue };
        if event.register() == Register::Unknown
            || crate::history::diff::same(cx.book, cx.files, cx.history, (was, track), (*event, track))
        {
            continue;
        }
        all.push(Move {
            quantity: track.quantity,
            place,
            rank,
            entry: index,
            before: value::value(tell, track, &was),
            before_at: value::span(tell, track, &was),
            value: value::value(tell, track, event),
        });
    }
}

/// A first row with where each place stood, then a row a line.
fn steps(tell: &Teller<'_>, car: CarId, moves: &[Move]) -> Vec<MovedStep> {
    let mut steps = Vec::new();
    for layer in [0_u8, 1, 2] {
        let own: Vec<&Move> = moves
            .iter()
            .filter(|one| match layer {
                0 => one.place.is_corner(),
                1 => one.place.is_axle(),
                _ => !one.place.is_corner() && !one.place.is_axle(),
            })
            .collect();
        let mut start: Vec<(Place, ShownValue)> = Vec::new();
        let mut spans = Vec::new();
        for one in &own {
            if !start.iter().any(|(place, _)| *place == one.place) {
                start.push((one.place, one.before.clone()));
                spans.push(one.before_at);
            }
        }
        let Some(first) = own.first() else { continue };
        let places: &[Place] = match layer {
            0 => &Place::CORNERS,
            1 => &[Place::FRONT, Place::REAR],
            _ => &[],
        };
        for place in places {
            // Places that never moved stand where they stood.
            if !start.iter().any(|(known, _)| known == place)
                && let Some(slot) = tell.cx.on(car, first.rank).slot(first.quantity, *place)
                && let Some(event) = slot.held.is(tell.cx.history)
            {
                start.push((*place, value::value(tell, slot.track, &event)));
                spans.push(value::span(tell, slot.track, &event));
            }
        }
        start.sort_by_key(|(place, _)| *place);
        let (cells_start, unit) = cells(tell, &start);
        steps.push(MovedStep {
            when: "before".to_owned(),
            unit,
            cells: cells_start.clone(),
            because: String::new(),
            src: crate::report::sources::lines(tell.cx.files, spans),
        });
        let mut rest = own.as_slice();
        while let Some(first) = rest.first() {
            let end = rest.iter().position(|one| one.entry != first.entry).unwrap_or(rest.len());
            let (here, after) = rest.split_at(end);
            rest = after;
            let values: Vec<(Place, ShownValue)> =
                here.iter().map(|one| (one.place, one.value.clone())).collect();
            let (mut cells, unit) = cells(tell, &values);
            // A place that this line leaves alone did not change, which is not the same as not known.
            let known = cells_start.iter().flat_map(|cell| &cell.items);
            for (item, start) in cells.iter_mut().flat_map(|cell| cell.items.iter_mut()).zip(known) {
                if item.value.how == ValueOrigin::Missing
                    && start.value.how != ValueOrigin::Missing
                    && layer < 2
                {
                    item.value =
                        ShownValue { text: "same".to_owned(), unit: String::new(), how: ValueOrigin::Same };
                }
            }
            steps.push(MovedStep {
                when: tell.moment(first.entry),
                unit,
                cells,
                because: tell
                    .entry(first.entry)
                    .and_then(|entry| tell.because(entry))
                    .unwrap_or_default()
                    .to_owned(),
                src: tell.src_of(first.entry),
            });
        }
    }
    steps
}
