//! How a season's settings were found against how they were left before, with the running and the impacts between.
//!
//! Must not know which settings those are: whatever was found is asked for.

use super::chain::digits;
use super::event::value;
use crate::book::entry::{EntryId, Flags, Item, Verb};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::figures::calc::{Calc, NodeId};
use crate::figures::drift;
use crate::figures::trace::{Step, trace};
use crate::history::Moment;
use crate::history::likeness::{self, Likeness};
use crate::history::order::Rank;
use crate::history::slots::{Owner, Register};
use crate::report::chart::drift::{DriftChart, DriftSeries};
use crate::report::chart::{self, Table, Words};
use crate::report::section::change;
use crate::report::section::value::{self, ShownValue};
use crate::report::teller::Teller;
use crate::units::number;
use crate::vocabulary::QuantityId;
use crate::words;
use serde::Serialize;

/// All that was found.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Drifts {
    /// The strip.
    pub chart: DriftChart,
    /// Each found line.
    pub rows: Vec<FoundLine>,
    /// Shares of the weight as found against as left.
    pub shares: Vec<Share>,
}

/// One line that was found.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FoundLine {
    /// The quantity.
    pub name: String,
    /// When.
    pub when: String,
    /// "3 sessions, 60 min, 1 impact" between.
    pub between: String,
    /// Its line and the one it was left on.
    pub src: String,
    /// Each place.
    pub places: Vec<FoundPlace>,
}

/// One place of it.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FoundPlace {
    /// Where.
    pub place: String,
    /// As found.
    pub found: ShownValue,
    /// As left.
    pub left: ShownValue,
    /// Gauge widths, with its sign.
    pub widths: String,
    /// Beyond what the two readings leave open.
    pub moved: bool,
    /// Gauge widths as a number, for the order.
    #[serde(skip)]
    pub size: f64,
    /// Found less left in the unit of what was found, with its sign, or for toe with its way; empty where it cannot be said.
    #[serde(skip)]
    pub by: String,
}

/// A share as found against as left.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Share {
    /// "cross weight".
    pub name: String,
    /// When it was found.
    pub when: String,
    /// Then.
    pub left: ShownValue,
    /// Now.
    pub found: ShownValue,
    /// In points of per cent.
    pub change: String,
    /// Whether it is the same within what both leave open, and so no change.
    pub same: bool,
    /// Both lines.
    pub src: String,
}

const SHARES: [&str; 4] = ["cross-weight", "front-weight", "left-weight", "total-weight"];

/// What was found on a car between two ranks, where it was left before.
pub(in crate::report) fn drifts(tell: &Teller<'_>, car: CarId, from: Rank, until: Rank) -> Option<Drifts> {
    let cx = &tell.cx;
    let imperial = cx.book.cars.get(car).is_some_and(|car| car.imperial);
    let mut rows: Vec<FoundLine> = Vec::new();
    let mut shares = Vec::new();
    let mut lanes: Vec<DriftSeries> = Vec::new();
    let lines = tell.lines_of(car);
    let first = lines.partition_point(|(rank, _)| *rank < from);
    let end = lines.partition_point(|(rank, _)| *rank < until);
    let known = until.index() <= cx.history.order.entries.len();
    let lines = lines.get(first..end).filter(|_| known).unwrap_or_default();
    for index in lines.iter().map(|(_, index)| *index) {
        let Some(entry) = tell.entry(index).filter(|entry| entry.verb == Verb::Found && !entry.broken) else {
            continue;
        };
        let Some(quantity) = entry.quantity else { continue };
        let name = cx.book.vocabulary.get(quantity).name.to_string();
        let rank = cx.rank(index);
        let items = cx.book.items_of(entry).iter().filter(|item| item.has_value());
        let mut places: Vec<Place> = items
            .filter(|item| !item.is(Flags::PART | Flags::REPEAT | Flags::OLD))
            .flat_map(|item| {
                // The total of an axle is one reading, not two.
                let whole = cx.history.slots.find(Owner::Car(car), quantity, item.place).is_some();
                match item.place.corners() {
                    corners if !whole && !corners.is_empty() => corners.to_vec(),
                    _ => vec![item.place],
                }
            })
            .collect();
        places.sort_unstable();
        places.dedup();
        let mut found = FoundLine {
            name: name.replace('-', " "),
            when: tell.moment(index),
            between: String::new(),
            src: tell.src(entry.span()),
            places: Vec::new(),
        };
        let mut left_src = String::new();
        let mut left_at = rank;
        for place in places {
            let mut calc = at(tell, car, rank.next());
            let Ok(moved) = drift::drift(&mut calc, &name, place) else { continue };
            let step = trace(&calc, &moved.widths, imperial);
            let [is, was, ..] = step.inputs.as_slice() else { continue };
            // Only what this very line found.
            if is.step.typed.as_ref().is_none_or(|typed| typed.line != tell.line(entry.span())) {
                continue;
            }
            let word = cx.place(place);
            let beyond = chart::drift::beyond(moved.widths.value);
            found.between = between(&moved);
            left_at = left_rank(tell, &calc, moved.widths.node).unwrap_or(left_at);
            if let Some(line) = &was.step.typed {
                left_src = words::place(&line.path, line.line);
            }
            let lane = format!("{} {word}", found.name);
            match lanes.iter_mut().find(|one| one.name == lane.trim_end()) {
                Some(lane) => lane.widths.push(moved.widths.value),
                None => {
                    lanes.push(DriftSeries {
                        name: lane.trim_end().to_owned(),
                        widths: vec![moved.widths.value],
                    });
                }
            }
            let typed = |at: usize| {
                let node = calc.nodes.get(calc.nodes.get(moved.widths.node)?.inputs.get(at)?.1)?;
                as_typed(tell, car, (quantity, place), node.entry?)
            };
            let (now, then) = (typed(0), typed(1));
            let by = now.as_ref().map_or_else(String::new, |(_, item)| {
                let finer = then.as_ref().map_or(0, |(_, item)| item.decimals);
                let by = if libm::fabs(moved.widths.value) < 1e-9 { 0.0 } else { moved.moved };
                let words = change::moved(tell, quantity, by, (entry.file, item), item.decimals.max(finer));
                let way = words.rsplit_once(" further").map_or("", |(_, way)| way);
                format!("{}{way}", words.split(' ').next().unwrap_or_default())
            });
            found.places.push(FoundPlace {
                place: word,
                found: now.map_or_else(|| value(&is.step), |(value, _)| value),
                left: then.map_or_else(|| value(&was.step), |(value, _)| value),
                widths: signed(moved.widths.value),
                moved: beyond,
                size: moved.widths.value,
                by,
            });
        }
        if found.places.is_empty() {
            continue;
        }
        if !left_src.is_empty() {
            found.src = format!("{left_src} → {}", found.src);
        }
        if name == "weight" {
            shares.extend(shares_of(tell, car, (left_at, rank), &found, imperial));
        }
        rows.push(found);
    }
    if rows.is_empty() {
        return None;
    }
    lanes.sort_by(|a, b| a.name.cmp(&b.name));
    let words = Words {
        id: chart::id(&["drift", cx.car(car)]),
        title: "How far settings were found from where they were left".to_owned(),
        desc: "One row for each setting; a dot each time it was found, filled where it moved by more than one gauge \
               width. The grey band is within one."
            .to_owned(),
    };
    Some(Drifts { chart: chart::drift::drift(words, &lanes, table(&rows)), rows, shares })
}

fn table(rows: &[FoundLine]) -> Table {
    let heads = ["what", "when", "left", "found", "gauge widths", "between", "lines"];
    let mut table = Table { head: heads.map(str::to_owned).to_vec(), rows: Vec::new() };
    for row in rows {
        for one in &row.places {
            let name = format!("{} {}", row.name, one.place).trim_end().to_owned();
            let cells = [name, row.when.clone(), one.left.full(), one.found.full(), one.widths.clone()];
            table.rows.push(cells.into_iter().chain([row.between.clone(), row.src.clone()]).collect());
        }
    }
    table
}

fn at<'a>(tell: &Teller<'a>, car: CarId, rank: Rank) -> Calc<'a> {
    Calc::new(tell.cx.facts, car, &Moment::of_rank(rank))
}

/// The rank of the line a drift was left on: its second input.
fn left_rank(tell: &Teller<'_>, calc: &Calc<'_>, node: NodeId) -> Option<Rank> {
    let (_, left) = calc.nodes.get(node)?.inputs.get(1)?;
    calc.nodes.get(*left)?.entry.map(|entry| tell.cx.rank(entry))
}

/// The shares of the weight once found, against the same once it was left. The two lines' ranks come in that order.
fn shares_of(
    tell: &Teller<'_>,
    car: CarId,
    ranks: (Rank, Rank),
    found: &FoundLine,
    imperial: bool,
) -> Vec<Share> {
    let figure = |name: &str, rank: Rank| -> Option<Step> {
        let mut calc = at(tell, car, rank);
        let fig = calc.named(name, Place::CAR).ok()?;
        Some(trace(&calc, &fig, imperial))
    };
    let both = SHARES
        .iter()
        .filter_map(|name| Some((name, figure(name, ranks.0.next())?, figure(name, ranks.1.next())?)));
    both.map(|(name, left, is)| {
        let decimals = digits(&is).0.split_once('.').map_or(0, |(_, after)| after.len() as u8);
        let unit = if is.unit == "%" { "points" } else { is.unit.as_str() };
        let text = number::format(is.value - left.value, decimals);
        let sign = if text.starts_with('-') { "" } else { "+" };
        Share {
            name: name.replace('-', " "),
            when: found.when.clone(),
            left: value(&left),
            found: value(&is),
            // What is inside what both leave open is no change.
            change: format!("{sign}{text} {unit}"),
            same: likeness::of_figures(is.value - left.value, left.u, is.u) == Some(Likeness::Same),
            src: found.src.clone(),
        }
    })
    .collect()
}

/// A reading of the car's own as it was typed, with its line and item: toe in the millimetres it was read in.
fn as_typed<'t>(
    tell: &Teller<'t>,
    car: CarId,
    slot: (QuantityId, Place),
    entry: EntryId,
) -> Option<(ShownValue, &'t Item)> {
    let history = tell.cx.history;
    let track = history.slots.find(Owner::Car(car), slot.0, slot.1)?;
    let event =
        track.events.iter().find(|event| event.entry == Some(entry) && event.register() == Register::Read)?;
    Some((value::value(tell, track, event), history.item(tell.cx.book, track, event)?))
}

fn signed(widths: f64) -> String {
    let text = number::format(widths, 1);
    let text = text.strip_suffix(".0").unwrap_or(&text).to_owned();
    if widths > 0.0 { format!("+{text}") } else { text }
}

fn between(moved: &drift::Drift) -> String {
    format!(
        "{}, {} min running, {}",
        words::count(moved.sessions, "session", "sessions"),
        number::format(moved.minutes, 0),
        words::count(moved.hits, "impact", "impacts")
    )
}
