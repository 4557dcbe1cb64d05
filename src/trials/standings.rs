//! At what each thing of a car stood in each run of an event.
//!
//! Only what the lines between the first run and the last touch is asked for: nothing else can differ. Must not know trials.

use super::course;
use super::factor::{Factor, Level, LevelIndex, PlacedValue, Standings, TrackKey};
use crate::book::entry::{Entry, EntryId, Verb};
use crate::book::model::{CarId, KindId};
use crate::book::place::Place;
use crate::history::Facts;
use crate::history::likeness::{self, Likeness};
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::history::slots::{Owner, SlotEvent};
use crate::vocabulary::QuantityId;
use std::collections::{BTreeMap, BTreeSet};

/// A line of the car: its rank and its number.
pub type RankedLine = (Rank, EntryId);

/// What a car's book says of settings: which quantities it sets at all. One that it only reads is an outcome.
#[must_use]
pub fn settings(facts: Facts<'_>, car: CarId, lines: &[RankedLine]) -> BTreeSet<QuantityId> {
    let set = lines.iter().filter_map(|(_, entry)| facts.book.entries.get(*entry));
    let set = set.filter(|entry| is_setting(entry)).filter_map(|entry| entry.quantity);
    let opening = facts.book.cars.get(car).map_or(&[][..], |car| car.opening.as_slice());
    set.chain(opening.iter().map(|(quantity, ..)| *quantity)).collect()
}

/// Whether a line sets something: what is filled or tightened is no setting.
#[must_use]
pub fn is_setting(entry: &Entry) -> bool {
    let setting = matches!(entry.verb, Verb::Set | Verb::Adjust | Verb::Left);
    setting && !entry.void
}

/// Every thing that differs between the runs, or is not known in all of them. `lines` are the car's between the first run and the last.
#[must_use]
pub fn standings(
    facts: Facts<'_>,
    car: CarId,
    runs: &[&Session],
    lines: &[RankedLine],
    set: &BTreeSet<QuantityId>,
) -> Vec<Standings> {
    let mut all: Vec<Standings> = Vec::new();
    all.extend(quantities(facts, car, lines, set).into_iter().map(|(quantity, places)| {
        let levels = runs.iter().map(|run| setting(facts, car, run.rank, quantity, &places, lines));
        told(Factor::Setting(quantity), stated(levels.collect()).into_iter(), |a, b| {
            same_setting(facts, a, b)
        })
    }));
    all.extend(kinds(facts, car).into_iter().map(|(kind, places)| {
        let until = runs.last().map_or(Rank::START, |run| run.rank);
        let levels = runs.iter().map(|run| parts(facts, car, (run.rank, until), kind, &places));
        told(Factor::Parts(kind), levels, |a, b| match (a, b) {
            (Level::Parts(a), Level::Parts(b)) => a == b,
            _ => false,
        })
    }));
    all.push(told(
        Factor::Driver,
        runs.iter().map(|run| course::driver(facts, run).map(Level::Driver)),
        |a, b| matches!((a, b), (Level::Driver(a), Level::Driver(b)) if a == b),
    ));
    all.push(told(
        Factor::Weather,
        runs.iter().map(|run| course::weather(facts, run).map(Level::Weather)),
        |a, b| matches!((a, b), (Level::Weather(a), Level::Weather(b)) if a == b),
    ));
    let hits: Vec<Rank> =
        facts.history.disturbances.hits(car, Rank::START, Rank::END).map(|hit| hit.rank).collect();
    let hidden: Vec<Rank> = lines
        .iter()
        .filter(|(_, line)| facts.history.kept_back.contains(line))
        .map(|(rank, _)| *rank)
        .collect();
    for (factor, ranks) in [(Factor::Impact, &hits), (Factor::Hidden, &hidden)] {
        let times =
            runs.iter().map(|run| Some(Level::Times(ranks.iter().filter(|rank| **rank < run.rank).count())));
        all.push(told(factor, times, |a, b| matches!((a, b), (Level::Times(a), Level::Times(b)) if a == b)));
    }
    all.retain(Standings::differs);
    all
}

/// Puts equal levels under one number.
fn told(
    factor: Factor,
    of_runs: impl Iterator<Item = Option<Level>>,
    same: impl Fn(&Level, &Level) -> bool,
) -> Standings {
    let mut levels: Vec<Level> = Vec::new();
    let mut of_run: Vec<LevelIndex> = Vec::new();
    for level in of_runs {
        of_run.push(level.map(|level| {
            levels.iter().position(|known| same(known, &level)).unwrap_or_else(|| {
                levels.push(level);
                levels.len() - 1
            })
        }));
    }
    Standings { factor, levels, of_run }
}

/// A place without a value in some runs and with one in others was not empty in those: nobody wrote what it stood at. They are not known.
fn stated(mut levels: Vec<Option<Level>>) -> Vec<Option<Level>> {
    let mut known: BTreeSet<Place> = BTreeSet::new();
    for level in levels.iter().flatten() {
        if let Level::Setting(values) = level {
            known.extend(values.iter().filter(|(_, held)| held.is_some()).map(|(place, _)| *place));
        }
    }
    for level in &mut levels {
        let lacks = |values: &[PlacedValue]| {
            values.iter().any(|(place, held)| held.is_none() && known.contains(place))
        };
        if level.as_ref().is_some_and(|level| matches!(level, Level::Setting(values) if lacks(values))) {
            *level = None;
        }
    }
    levels
}

/// The quantities that lines set, or read though they are set elsewhere, and every place the car has them at.
fn quantities(
    facts: Facts<'_>,
    car: CarId,
    lines: &[RankedLine],
    set: &BTreeSet<QuantityId>,
) -> BTreeMap<QuantityId, Vec<Place>> {
    let mut found: BTreeMap<QuantityId, Vec<Place>> = BTreeMap::new();
    for entry in lines.iter().filter_map(|(_, entry)| facts.book.entries.get(*entry)) {
        let Some(quantity) = entry.quantity.filter(|_| !entry.void) else { continue };
        let touches = matches!(entry.verb, Verb::Set | Verb::Adjust | Verb::Left)
            || (matches!(entry.verb, Verb::Found | Verb::Read) && set.contains(&quantity));
        if !touches {
            continue;
        }
        let places = found.entry(quantity).or_insert_with(|| {
            let tracks = facts.history.slots.of_quantity(Owner::Car(car), quantity);
            tracks.iter().map(|track| track.place).collect()
        });
        places.extend(facts.book.items_of(entry).iter().map(|item| item.place));
    }
    for places in found.values_mut() {
        places.sort_unstable();
        places.dedup();
    }
    found
}

/// What a quantity stood at before a rank; `None` where it is unknown.
fn setting(
    facts: Facts<'_>,
    car: CarId,
    rank: Rank,
    quantity: QuantityId,
    places: &[Place],
    lines: &[RankedLine],
) -> Option<Level> {
    let standing = facts.on(car, rank);
    // A line with an error about a quantity that has no value yet leaves no trace in a slot.
    let lost = |(at, line): &RankedLine| {
        let entry = facts.book.entries.get(*line);
        *at < rank && entry.is_some_and(|entry| entry.broken && entry.quantity == Some(quantity))
    };
    let mut values: Vec<PlacedValue> = Vec::with_capacity(places.len());
    for place in places {
        let slot = standing.slot(quantity, *place);
        if slot.is_some_and(|slot| slot.held.unknown.is_some()) {
            return None;
        }
        let held = slot.and_then(|slot| Some((slot.held.is(facts.history)?, TrackKey::of(slot.track))));
        let held =
            held.or_else(|| from_nought(facts, car, quantity, *place).filter(|_| !lines.iter().any(lost)));
        values.push((*place, held));
    }
    if values.iter().all(|(_, held)| held.is_none()) && lines.iter().any(lost) {
        return None;
    }
    Some(Level::Setting(values))
}

/// What is counted from where it stood, and was never touched, stands at nought: the place of the first line that turns it, and no turn.
fn from_nought(
    facts: Facts<'_>,
    car: CarId,
    quantity: QuantityId,
    place: Place,
) -> Option<(SlotEvent, TrackKey)> {
    let track = facts.history.slots.find(Owner::Car(car), quantity, place)?;
    let turns = |event: &&SlotEvent| event.line(facts.book).is_some_and(|line| line.verb == Verb::Adjust);
    let first = track.events.first().filter(turns)?;
    let nought = facts.book.vocabulary.get(quantity).nought(true)?;
    Some((first.at(nought), TrackKey::of(track)))
}

fn same_setting(facts: Facts<'_>, a: &Level, b: &Level) -> bool {
    let (Level::Setting(a), Level::Setting(b)) = (a, b) else { return false };
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same_value(facts, a, b))
}

/// Whether two values of a place are the same.
#[must_use]
pub fn same_value(facts: Facts<'_>, a: &PlacedValue, b: &PlacedValue) -> bool {
    match (a.1, b.1) {
        (None, None) => true,
        (Some(a), Some(b)) if a.0 == b.0 => true,
        (Some(a), Some(b)) => {
            let tracks = a.1.track(facts.history).zip(b.1.track(facts.history));
            tracks.is_some_and(|(first, second)| {
                likeness::compare(facts, (a.0, first), (b.0, second)) == Likeness::Same
            })
        }
        _ => false,
    }
}

/// The kinds of part that the car ever had, with their places.
fn kinds(facts: Facts<'_>, car: CarId) -> BTreeMap<KindId, Vec<Place>> {
    let mut found: BTreeMap<KindId, Vec<Place>> = BTreeMap::new();
    for (kind, place) in facts.history.parts.places_of(car) {
        found.entry(*kind).or_default().push(*place);
    }
    found
}

/// Who was where before a rank; `None` where a mistake has put it in doubt, or where the first that the book tells of a place comes only
/// before the second rank: it was not empty until then, nobody wrote what was there.
fn parts(
    facts: Facts<'_>,
    car: CarId,
    (rank, until): (Rank, Rank),
    kind: KindId,
    places: &[Place],
) -> Option<Level> {
    let all = &facts.history.parts;
    let mut list = Vec::with_capacity(places.len());
    for place in places {
        let part = all.holder(car, kind, *place, rank);
        let first = all.occupants.get(&(car, kind, *place)).and_then(|stays| stays.first());
        if part.is_none() && first.is_some_and(|(from, ..)| *from >= rank && *from < until) {
            return None;
        }
        let inside = part.map_or_else(Vec::new, |part| all.inside(part, rank).collect());
        let rebuilt =
            part.map_or(0, |part| all.get(part).rebuilds.partition_point(|rebuild| rebuild.rank < rank));
        if let Some(history) = part.map(|part| all.get(part))
            && history.at(rank).is_some_and(|stay| history.doubted(stay.from, rank))
        {
            return None;
        }
        list.push((*place, part, inside, rebuilt));
    }
    Some(Level::Parts(list))
}

/// The runs during which a line changed a setting, each with the quantity; `None` where it changed a part.
#[must_use]
pub fn changed_during(
    facts: Facts<'_>,
    runs: &[&Session],
    lines: &[RankedLine],
) -> Vec<(usize, Option<QuantityId>)> {
    let mut found = Vec::new();
    for (rank, line) in lines {
        let Some(entry) = facts.book.entries.get(*line) else { continue };
        let sets = matches!(entry.verb, Verb::Set | Verb::Adjust);
        if entry.void || !(sets && entry.quantity.is_some() || entry.verb.moves_part()) {
            continue;
        }
        let quantity = entry.quantity.filter(|_| sets);
        let during = facts.history.during(facts.book, *line);
        let after = facts.book.extra(entry).is_some_and(|extra| extra.after.is_some());
        let at = facts.history.order.at.get(*line).copied();
        let inside = |run: &&Session| {
            let named = during == Some(run.entry) && !after;
            let clocked = entry.clock.0 >= 0
                && !after
                && *rank > run.rank
                && at.is_some_and(|at| at > run.start && at < run.end);
            named || clocked
        };
        found.extend(runs.iter().position(inside).map(|run| (run, quantity)));
    }
    found
}
