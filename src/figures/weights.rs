//! What the pads read: one weighing of the car, a pad that was not read worked out; how the car then stood.
//!
//! A figure of the pads is of one weighing, the newest that has all it takes. The figures are arithmetic, in
//! `grammar/figures.sline`. Must not know springs.

use super::calc::{Calc, Fig, Got, Missing, Status};
use super::chain::NodeId;
use super::code::Code;
use super::formula::Formula;
use super::roll::{Bar, bar};
use crate::book::entry::EntryId;
use crate::book::figure::{Figure, Source};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::history::likeness::{self, Horizon, Reading, Shared};
use crate::history::order::Rank;
use crate::history::slots::Owner;
use crate::history::weighing::{self, Weighing};
use crate::units::DimensionId;

/// What the program works out.
pub const FIGURES: &[Code] =
    &[("corner-weight", corner), ("total-with-pads", |calc, _| whole(calc)), ("pads-with-bars", with_bars)];

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

/// The newest weighing of the car.
fn weighing(calc: &Calc<'_>) -> Got<Weighing> {
    let newest = calc.car.and_then(|car| weighing::newest(calc.facts, car, |id| calc.rank_of(id)));
    newest.ok_or_else(|| Missing::one("a reading of weight at the four corners"))
}

/// What a corner carries at the newest weighing: its pad, else the whole car less the other three.
fn corner(calc: &mut Calc<'_>, place: Place) -> Got {
    super::springs::corner(place)?;
    let id = calc.quantity("weight")?;
    if let Some(supposed) = calc.instead(id, place) {
        return Ok(supposed);
    }
    let weighing = weighing(calc)?;
    if weighing.unread().all(|unread| unread != place) {
        return calc.reading("weight", place);
    }
    if weighing.unread().count() > 1 {
        return Err(lacks(calc, &[place]));
    }
    let total = whole(calc)?;
    let mut pads = Vec::new();
    for other in Place::CORNERS.into_iter().filter(|other| *other != place) {
        pads.push(calc.reading("weight", other)?);
    }
    let [a, b, c] = pads.as_slice() else { return Err(Missing::one("a corner")) };
    let inputs = [("total", &total), ("a", a), ("b", b), ("c", c)];
    calc.derive_of_as(&FOURTH, place, inputs, Some(Status::Inferred), |[total, a, b, c]| total - a - b - c)
}

/// Which pads would have to be read with the others.
fn lacks(calc: &Calc<'_>, unread: &[Place]) -> Missing {
    let Ok(id) = calc.quantity("weight") else { return Missing::default() };
    let name = |corner: &Place| calc.slot_name(id, *corner);
    let or = ", or total-weight read in the same block";
    if unread.is_empty() {
        return Missing::one("total-weight read in the same block as the pads");
    }
    let needs = unread.iter().map(|corner| format!("{} on the same line as the others{or}", name(corner)));
    Missing { needs: needs.collect() }
}

/// The whole car, read in the same weighing as the pads; it is more than they carry.
fn whole(calc: &mut Calc<'_>) -> Got {
    let id = calc.quantity("total-weight")?;
    let supposed = calc.instead(id, Place::CAR);
    let weighing = weighing(calc)?;
    let unread: Vec<Place> = weighing.unread().collect();
    let read = weighing.total.zip(calc.state(id, Place::CAR));
    let value = supposed.as_ref().map(|fig| fig.value).or(read.as_ref().map(|(event, _)| event.value));
    let Some(value) = value else { return Err(lacks(calc, &unread)) };
    let mut pads = 0.0;
    for corner in Place::CORNERS.into_iter().filter(|corner| !unread.contains(corner)) {
        pads += calc.reading("weight", corner)?.value;
    }
    if value <= pads && !unread.is_empty() {
        let many = match unread.len() {
            1 => "three pads together",
            2 => "two pads together",
            _ => "one pad",
        };
        return Err(Missing::one(format!("a total-weight above the {many}")));
    }
    if let Some(supposed) = supposed {
        return Ok(supposed);
    }
    let Some((event, slot)) = read else { return Err(lacks(calc, &unread)) };
    let stale = slot.held.stale.filter(|_| slot.held.read == Some(event)).map(|by| by.entry);
    calc.event(id, Place::CAR, &slot, event, stale)
}

/// The newest line that read a pad.
pub(super) fn line_of_pads(calc: &Calc<'_>) -> Got<EntryId> {
    weighing(calc).map(|weighing| weighing.last)
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

/// A figure by its declaration; one of the pads is of one weighing, the newest that has all it takes: where that is not the
/// newest of all, it says of which day it is.
pub(super) fn of_one_weighing<'a>(calc: &mut Calc<'a>, figure: &'a Figure, place: Place) -> Got {
    let corner = calc.book.figures.find("corner-weight");
    let takes = |source: &Source| matches!(source, Source::Value { figure, .. } if figure.is_some() && *figure == corner);
    let of_pads = calc.book.figures.find(&figure.name) == corner
        || figure.names.iter().flat_map(|name| &name.sources).any(takes);
    let pinned = calc.horizons.iter().any(|horizon| matches!(horizon.of, Shared::Weighed(_)));
    let newest = weighing(calc).ok().filter(|_| of_pads && !pinned);
    let Some((newest, car)) = newest.zip(calc.car) else { return calc.read_or_worked_out(figure, place) };
    let both = [calc.quantity("weight")?, calc.quantity("total-weight")?];
    let until = |calc: &mut Calc<'a>, before: Rank| {
        // What is on the way takes no pad of another weighing.
        calc.horizons.push(Horizon { before, then: before, of: Shared::Weighed(both) });
        let got = calc.read_or_worked_out(figure, place);
        let weighing = weighing(calc).ok();
        calc.horizons.pop();
        (got, weighing)
    };
    let missing = match until(calc, Rank::END).0 {
        Ok(fig) => return Ok(fig),
        Err(missing) => missing,
    };
    let mut before = newest.from;
    for _ in 0..super::together::STATES {
        let (got, Some(older)) = until(calc, before) else { break };
        if let Ok(fig) = got {
            return Ok(as_of(calc, car, fig, [&older, &newest]));
        }
        before = older.from;
    }
    Err(missing)
}

/// What came after the pads and makes a figure of them untrue. Of what is weighed itself (a total, an axle's or a side's share) only what its
/// own quantity is disturbed by does: a turn of a perch moves load from pad to pad and leaves their sum alone.
pub(super) fn stale_of(
    calc: &Calc<'_>,
    name: &str,
    inputs: &[(&str, &Fig)],
    since: EntryId,
) -> Option<EntryId> {
    let weighed = calc.quantity(name).ok().filter(|id| {
        let quantity = calc.book.vocabulary.get(*id);
        !quantity.needs.is_empty() && quantity.is_disturbed()
    });
    let (Some(quantity), Some(car)) = (weighed, calc.car) else { return Some(since) };
    let mut nodes: Vec<NodeId> = inputs.iter().map(|(_, fig)| fig.node).collect();
    let mut first: Option<(Rank, EntryId)> = None;
    while let Some(node) = nodes.pop().and_then(|node| calc.nodes.get(node)) {
        nodes.extend(node.inputs.iter().map(|(_, node)| *node));
        let read = node.entry.and_then(|entry| Some((*calc.history.order.rank.get(entry)?, entry)));
        first = first.into_iter().chain(read).min();
    }
    let (rank, entry) = first?;
    let reading = Reading { quantity, place: Place::CAR, entry, owner: Owner::Car(car) };
    likeness::changes(calc.facts, car, reading, [rank, calc.rank]).next().map(|change| change.entry)
}

/// Says of which day a figure is, and what came after it.
fn as_of(calc: &mut Calc<'_>, car: CarId, mut fig: Fig, [older, newest]: [&Weighing; 2]) -> Fig {
    let Ok(weight) = calc.quantity("weight") else { return fig };
    let reading = Reading { quantity: weight, place: Place::LF, entry: older.last, owner: Owner::Car(car) };
    let since = likeness::changes(calc.facts, car, reading, [older.from, calc.rank]).next();
    fig.stale = fig.stale.or(since.map(|change| change.entry));
    let [then, now] = [older, newest].map(|one| super::together::day(calc, one.last));
    let words = format!("as of {then}: of {now} there is no pad or total for it");
    if let Some(node) = calc.nodes.get_mut(fig.node) {
        node.stale = fig.stale;
    }
    calc.cautions.entry(fig.node).or_insert(words.into());
    fig
}
