//! Tried of readings of one outcome with nothing between them but turns of one setting.
//!
//! A step counts where everything that was set between could not have moved the outcome, but for one setting. What the program's own
//! vocabulary says does not disturb the other is left alone; of a quantity that the book declares nobody knows, so it may. Must not know
//! how slopes are fitted.

use super::between::{Happenings, Turned, stands};
use super::sighting::{Outcome, Sighting};
use super::state::{self, Differs};
use crate::book::entry::{EntryId, Verb};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::history::Facts;
use crate::history::likeness::{self, Reading};
use crate::history::order::Rank;
use crate::history::slots::Owner;
use crate::vocabulary::{Places, QuantityId};
use std::collections::BTreeMap;

/// One reading of a chain.
#[derive(Debug, Clone, PartialEq)]
pub struct ChainLink {
    /// At what the setting stood, by place as [`Tried::places`] has them, SI; nought all through a chain where nobody has told.
    pub stood: Vec<f64>,
    /// What was read, SI.
    pub value: f64,
    /// Its standard uncertainty by its gauge, SI.
    pub grain: f64,
    /// Its line.
    pub line: EntryId,
}

/// The chains of one outcome and one setting.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Tried {
    /// Where it was turned.
    pub places: Vec<Place>,
    /// In order; each has two readings at least, with the car as stiff as it is now.
    pub chains: Vec<Vec<ChainLink>>,
    /// What was otherwise in those that are left out.
    pub otherwise: Option<Differs>,
}

/// What lies between two readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Step {
    /// More than one thing, or something that is no setting.
    Apart,
    /// Nothing.
    Still,
    /// One setting.
    By(QuantityId),
}

/// The chains of an outcome, by the setting that was turned in them.
pub fn by_cause(
    facts: Facts<'_>,
    car: CarId,
    outcome: Outcome,
    (sightings, until): (&[Sighting], Rank),
    happenings: &Happenings,
) -> Vec<(QuantityId, Tried)> {
    let pairs = || sightings.iter().zip(sightings.iter().skip(1));
    let steps: Vec<Step> =
        pairs().map(|(from, to)| step(facts, car, outcome, [from, to], happenings)).collect();
    let mut places: BTreeMap<QuantityId, Vec<Place>> = BTreeMap::new();
    for ((from, to), step) in pairs().zip(&steps) {
        let Step::By(cause) = step else { continue };
        let lines = happenings.turned(from.rank, to.rank).filter(|one| one.quantity == *cause);
        places.entry(*cause).or_default().extend(lines.flat_map(|one| turned_at(facts, one)));
    }
    let of_cause = |(cause, mut places): (QuantityId, Vec<Place>)| {
        places.sort_unstable();
        places.dedup();
        let all = chained(facts, car, (cause, &places), sightings, &steps, happenings);
        let (mut chains, mut otherwise) = (Vec::new(), None);
        let now = sightings.last().map(|newest| state::at(facts, car, until, (outcome, cause), newest));
        for chain in all {
            let first = chain.first().and_then(|link| sightings.iter().find(|one| one.line == link.line));
            let then = first.map(|first| state::at(facts, car, first.rank, (outcome, cause), first));
            match then.zip(now.as_ref()).and_then(|(then, now)| then.differs(facts.book, now)) {
                Some(differs) => otherwise = Some(differs),
                None => chains.push(chain),
            }
        }
        (cause, Tried { places, chains, otherwise })
    };
    places.into_iter().map(of_cause).collect()
}

/// The places a line turned it at: each corner where it has corners.
fn turned_at(facts: Facts<'_>, turned: &Turned) -> Vec<Place> {
    let corners = facts.book.vocabulary.get(turned.quantity).places.has(Places::CORNER);
    let items = facts.book.entries.get(turned.line).map_or(&[][..], |entry| facts.book.items_of(entry));
    let spread = |place: Place| {
        let each = if corners { place.corners() } else { &[] };
        if each.is_empty() { vec![place] } else { each.to_vec() }
    };
    items.iter().flat_map(|item| spread(item.place)).collect()
}

fn chained(
    facts: Facts<'_>,
    car: CarId,
    (cause, places): (QuantityId, &[Place]),
    sightings: &[Sighting],
    steps: &[Step],
    happenings: &Happenings,
) -> Vec<Vec<ChainLink>> {
    let mut chains: Vec<Vec<ChainLink>> = Vec::new();
    let mut chain: Vec<ChainLink> = Vec::new();
    let before = std::iter::once(&Step::Apart).chain(steps);
    let mut last: Option<(Rank, Vec<bool>)> = None;
    for (one, before) in sightings.iter().zip(before) {
        let stood: Vec<Option<f64>> =
            places.iter().map(|place| stands(facts, car, one.rank, cause, *place)).collect();
        let known: Vec<bool> = stood.iter().map(Option::is_some).collect();
        // A place that nobody has told of stays where it was until a line is about it.
        let joins = last.as_ref().is_some_and(|(rank, knew)| {
            let lines = || happenings.turned(*rank, one.rank).filter(|line| line.quantity == cause);
            let told = |place: &Place| lines().any(|line| turned_at(facts, line).contains(place));
            *knew == known && places.iter().zip(&known).all(|(place, known)| *known || !told(place))
        });
        if !joins || !matches!(before, Step::Still) && *before != Step::By(cause) {
            chains.push(std::mem::take(&mut chain));
        }
        let stood = stood.into_iter().map(Option::unwrap_or_default).collect();
        chain.push(ChainLink { stood, value: one.value, grain: one.grain, line: one.line });
        last = Some((one.rank, known));
    }
    chains.push(chain);
    chains.retain(|chain| chain.len() > 1);
    chains
}

/// What lies between a reading and the next.
pub fn step(
    facts: Facts<'_>,
    car: CarId,
    outcome: Outcome,
    [from, to]: [&Sighting; 2],
    happenings: &Happenings,
) -> Step {
    if !alike(facts, car, outcome, [from, to]) {
        return Step::Apart;
    }
    match since(facts, outcome, (from.rank, to.rank), happenings) {
        // Whoever leaves it otherwise than it was turned something that no line tells of.
        Step::Still if leaves(facts, to) => Step::Apart,
        step => step,
    }
}

/// What came between two ranks that may have moved an outcome.
pub fn since(
    facts: Facts<'_>,
    outcome: Outcome,
    (from, until): (Rank, Rank),
    happenings: &Happenings,
) -> Step {
    let quantity = facts.book.vocabulary.get(outcome.quantity());
    let loaded = !quantity.needs.is_empty();
    if !happenings.is_quiet(from, until, loaded) {
        return Step::Apart;
    }
    let at_work =
        |one: &&Turned| one.quantity == outcome.quantity() && !one.left || may_move(facts, outcome, one);
    let turned: Vec<&Turned> = happenings.turned(from, until).filter(at_work).collect();
    let vocabulary = &facts.book.vocabulary;
    let follows = |one: &Turned| {
        one.left && turned.iter().any(|other| !other.left && vocabulary.moves(other.quantity, one.quantity))
    };
    let mut causes: Vec<QuantityId> =
        turned.iter().filter(|one| !follows(one)).map(|one| one.quantity).collect();
    causes.sort_unstable();
    causes.dedup();
    match causes.as_slice() {
        [] => Step::Still,
        // What was set to a value is not what a turn of something else made of it.
        [cause] if *cause != outcome.quantity() => Step::By(*cause),
        _ => Step::Apart,
    }
}

/// Whether a reading is what it was left at.
fn leaves(facts: Facts<'_>, one: &Sighting) -> bool {
    facts.book.entries.get(one.line).is_some_and(|entry| entry.verb == Verb::Left)
}

/// Whether two readings were taken alike: by the same gauge, that read as much too high as before, under the same conditions, with the bars as they were.
fn alike(facts: Facts<'_>, car: CarId, outcome: Outcome, [from, to]: [&Sighting; 2]) -> bool {
    let lines = [from, to].map(|one| facts.book.entries.get(one.line));
    let [Some(older), Some(newer)] = lines else { return false };
    let place = match outcome {
        Outcome::Cross(_) => Place::LF,
        Outcome::Reading(_, place) => place,
    };
    let reading =
        |line: EntryId| Reading { quantity: outcome.quantity(), place, entry: line, owner: Owner::Car(car) };
    // Of two blocks what nobody wrote may have been another: each says what its readings need.
    let needs = &facts.book.vocabulary.get(outcome.quantity()).needs;
    let says = |entry| needs.iter().all(|key| likeness::says(facts, entry, key).is_some());
    let one_block = older.head == newer.head;
    (one_block || says(older) && says(newer))
        && older.by == newer.by
        && from.high.to_bits() == to.high.to_bits()
        && likeness::bars(facts, older) == likeness::bars(facts, newer)
        && likeness::conditions(facts, reading(from.line), reading(to.line)).is_none()
}

/// Whether a setting may move an outcome, wherever on the car it was turned: one corner that is raised moves the others.
fn may_move(facts: Facts<'_>, outcome: Outcome, turned: &Turned) -> bool {
    let vocabulary = &facts.book.vocabulary;
    let own = |quantity: QuantityId| vocabulary.get(quantity).declared.is_some();
    turned.quantity != outcome.quantity()
        && (own(outcome.quantity())
            || own(turned.quantity)
            || vocabulary.moves(turned.quantity, outcome.quantity()))
}
