//! In no trace does a disturbance of one input lie between it and another input of the same physical state. Looked for here by walking
//! all the book's lines, not by asking the module that holds the figures to it.

use super::{Broken, Files, compiled};
use std::collections::BTreeSet;
use stringline::Compiled;
use stringline::book::entry::{EntryId, Verb};
use stringline::book::model::CarId;
use stringline::book::place::Place;
use stringline::figures::{Calc, Fig};
use stringline::history::moment::{self, Moment};
use stringline::history::order::Rank;
use stringline::history::slots::{Owner, Register};
use stringline::vocabulary::{Places, QuantityId};

/// A reading under a figure: its quantity, where, when.
pub type Read = (QuantityId, Place, Rank);

/// A change on a car, as the lines tell it: when, of which quantity (none: an impact), where.
type Change = (Rank, Option<QuantityId>, Place);

/// What was met: figures of more than one reading day, and figures that went back to an older day.
#[derive(Debug, Default, Clone, Copy)]
pub struct Met {
    /// Figures that rest on readings of more than one line.
    pub several: usize,
    /// Figures that say they are as of an older day.
    pub older: usize,
    /// Figures that are missing since their readings do not belong together.
    pub missing: usize,
}

/// Every figure of every car at every place, at each of its lines' days and at the end.
pub fn inputs_were_true_together(files: &Files) -> (Option<Broken>, Met) {
    let book = compiled(files);
    let mut met = Met::default();
    for (car, _) in book.book.cars.iter_enumerated() {
        let changes = changes(&book, car);
        for moment in moments(&book, car) {
            if let Some(broken) = at(&book, car, &changes, &moment, &mut met) {
                return (Some(broken), met);
            }
        }
    }
    (None, met)
}

fn at(book: &Compiled, car: CarId, changes: &[Change], moment: &Moment, met: &mut Met) -> Option<Broken> {
    let mut calc = Calc::new(book.facts(), car, moment);
    let places =
        Place::CORNERS.into_iter().chain([Place::CAR, Place::FRONT, Place::REAR, Place::cylinder(1)]);
    for place in places {
        for (id, figure) in book.book.figures.iter() {
            let fig = match calc.figure(id, place) {
                Ok(fig) => fig,
                Err(missing) => {
                    met.missing += usize::from(format!("{missing:?}").contains("in one state of the car"));
                    continue;
                }
            };
            met.older +=
                usize::from(calc.cautions.get(&fig.node).is_some_and(|words| words.starts_with("as of ")));
            let read = readings(book, &calc, &fig);
            met.several += usize::from(read.iter().map(|(.., rank)| rank).collect::<BTreeSet<_>>().len() > 1);
            for (quantity, place, rank) in &read {
                for other in
                    read.iter().filter(|other| other.2 > *rank && (other.0, other.1) != (*quantity, *place))
                {
                    let between = |change: &&Change| change.0 > *rank && change.0 < other.2;
                    let disturbed = changes.iter().filter(between).find(|change| {
                        disturbs(book, **change, *quantity, *place) && of_its_state(book, **change, other.0)
                    });
                    if let Some(change) = disturbed {
                        let name = |id: QuantityId| book.book.vocabulary.get(id).name.to_string();
                        return Some(Broken {
                            property: "inputs true together",
                            section: format!("{} {}", figure.name, moment.rank.number()),
                            shows: format!(
                                "{} at {place:?} was read before {:?} changed, {} after",
                                name(*quantity),
                                change.1.map(name),
                                name(other.0)
                            ),
                        });
                    }
                }
            }
        }
    }
    None
}

/// Of every figure at every moment: its name, and the readings under it.
pub fn rest_on(book: &Compiled) -> Vec<(String, BTreeSet<Read>)> {
    let mut all = Vec::new();
    for (car, _) in book.book.cars.iter_enumerated() {
        for moment in moments(book, car) {
            let mut calc = Calc::new(book.facts(), car, &moment);
            for place in Place::CORNERS.into_iter().chain([Place::CAR, Place::FRONT, Place::REAR]) {
                for (id, figure) in book.book.figures.iter() {
                    let Ok(fig) = calc.figure(id, place) else { continue };
                    all.push((figure.name.to_string(), readings(book, &calc, &fig)));
                }
            }
        }
    }
    all
}

fn moments(book: &Compiled, car: CarId) -> Vec<Moment> {
    let days: BTreeSet<String> = book.book.heads_of(car).map(|head| head.date.to_string()).collect();
    let parsed =
        days.iter().filter_map(|day| moment::parse(&book.book, &book.files, &book.history, car, day).ok());
    parsed.chain([moment::end(&book.history)]).collect()
}

/// The readings among the steps under a figure.
fn readings(book: &Compiled, calc: &Calc<'_>, fig: &Fig) -> BTreeSet<Read> {
    let (mut list, mut open) = (BTreeSet::new(), vec![fig.node]);
    let mut seen = BTreeSet::new();
    while let Some(at) = open.pop() {
        if !seen.insert(at) {
            continue;
        }
        let node = &calc.nodes[at];
        open.extend(node.inputs.iter().map(|(_, input)| *input));
        let Some(entry) = node.entry.filter(|_| node.formula.is_none()) else { continue };
        list.extend(reading(book, entry, node.place, node.unit.map(|unit| unit.get().dim)));
    }
    list
}

fn reading(
    book: &Compiled,
    entry: EntryId,
    place: Place,
    dim: Option<stringline::units::Dim>,
) -> Option<Read> {
    let row = &book.book.entries[entry];
    let at = row.parent.filter(|_| matches!(row.verb, Verb::Sweep | Verb::Lift)).unwrap_or(entry);
    let line = &book.book.entries[at];
    let reads = matches!(line.verb, Verb::Found | Verb::Left | Verb::Read | Verb::Torque);
    let mut quantity = line.quantity.filter(|_| reads)?;
    // What is weighed on the row of a lift is weight.
    let weight = book.book.vocabulary.find("weight")?;
    let dims = book.book.vocabulary.get(weight).dimension.get().dims();
    if at != entry && dim.is_some_and(|dim| dims.contains(&dim)) {
        quantity = weight;
    }
    // A condition of the line (`with fuel 20 L`) is of no slot.
    let typed = book.book.vocabulary.get(quantity).dimension.get().dims();
    (at != entry || dim.is_none_or(|dim| typed.contains(&dim)))
        .then(|| (quantity, place, book.history.order.rank[at]))
}

/// Everything that was changed on a car: values asked that are not those asked or read before, parts fitted that bring a value, impacts.
fn changes(book: &Compiled, car: CarId) -> Vec<Change> {
    let rank = |entry: EntryId| book.history.order.rank[entry];
    let mut all = Vec::new();
    for track in &book.history.slots.tracks {
        let mut before = None;
        for event in &track.events {
            let new = before != Some(event.value);
            before = Some(event.value);
            if let (true, Some(entry), Register::Asked) = (new, event.entry, event.register())
                && track.owner == Owner::Car(car)
            {
                all.push((rank(entry), Some(track.quantity), track.place));
            }
        }
    }
    for (at, part) in book.history.parts.all.iter_enumerated() {
        let kind = book.book.parts[at].kind.and_then(|kind| book.book.kinds.get(kind));
        for stay in part.stays.iter().filter(|stay| stay.car == Some(car)) {
            let stringline::history::parts::Where::Car(_, place) = stay.at else { continue };
            all.extend(
                kind.iter().flat_map(|kind| &kind.gives).map(|gives| (stay.from, Some(*gives), place)),
            );
        }
    }
    for (at, line) in book.book.entries.iter_enumerated() {
        let of_car = book.book.head(line).is_some_and(|head| head.car == Some(car));
        if of_car && line.verb == Verb::Hit && !line.broken {
            let facts = book.book.extra(line).and_then(|extra| extra.parts.as_ref());
            if let Some(place) = facts.and_then(|facts| facts.place) {
                all.push((rank(at), None, place));
            }
        }
    }
    all
}

/// Whether a change makes what was read of a quantity at a place untrue.
fn disturbs(book: &Compiled, change: Change, quantity: QuantityId, place: Place) -> bool {
    let what = book.book.vocabulary.get(quantity);
    let weight = book.book.vocabulary.find("weight") == Some(quantity);
    let here = weight || what.places.has(Places::CAR) || change.2.touches(place);
    // The generator weighs with the bars off, and a bar that is off carries nothing.
    let bar = weight && change.1.is_some() && change.1 == book.book.vocabulary.find("bar-hole");
    here && !bar && of_its_state(book, change, quantity)
}

/// Whether such a change disturbs a quantity at all.
fn of_its_state(book: &Compiled, change: Change, quantity: QuantityId) -> bool {
    let what = book.book.vocabulary.get(quantity);
    change.1.map_or(what.disturbed_by_hit, |by| what.disturbed_by.contains(&by))
}
