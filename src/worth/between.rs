//! What happened on a car between two of its readings: what was turned, and what leaves nothing to compare.
//!
//! Must not know readings, nor numbers.

use crate::book::entry::{Entry, EntryId, Verb};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::slots::Owner;
use crate::history::{Facts, weighing};
use crate::vocabulary::QuantityId;

/// A line that set something.
#[derive(Debug, Clone, Copy)]
pub struct Turned {
    /// When.
    pub rank: Rank,
    /// What.
    pub quantity: QuantityId,
    /// Whether it only says what it was left at: it may follow from something else.
    pub left: bool,
    /// Its line.
    pub line: EntryId,
}

/// What happened on a car, in order.
#[derive(Debug)]
pub struct Happenings {
    /// It ran, was hit, had a part changed or rebuilt, or a line has an error or is not this reader's.
    breaks: Vec<Rank>,
    /// What it carries changed: fuel, driver.
    aboard: Vec<Rank>,
    turned: Vec<Turned>,
}

impl Happenings {
    /// Those of a car.
    #[must_use]
    pub fn of_car(facts: Facts<'_>, car: CarId) -> Self {
        let (book, history) = (facts.book, facts.history);
        let aboard_of = weighing::LOAD.map(|name| book.vocabulary.find(name));
        let mut all = Self { breaks: Vec::new(), aboard: Vec::new(), turned: Vec::new() };
        for (rank, line) in history.order.lines_of(book, car) {
            let Some(entry) = book.entries.get(line).filter(|entry| !entry.void) else { continue };
            if entry.broken || entry.withheld || history.kept_back.contains(&line) || upsets(entry.verb) {
                all.breaks.push(rank);
            }
            let Some(quantity) = entry.quantity else { continue };
            let sets = sets(entry);
            if aboard_of.contains(&Some(quantity)) && (sets || entry.verb == Verb::Fill) {
                all.aboard.push(rank);
            } else if sets || entry.verb == Verb::Left {
                all.turned.push(Turned { rank, quantity, left: !sets, line });
            }
        }
        for (kind, place) in history.parts.places_of(car) {
            for (from, until, part) in
                history.parts.occupants.get(&(car, *kind, *place)).into_iter().flatten()
            {
                all.breaks.extend([*from, *until]);
                let rebuilds = history.parts.get(*part).rebuilds.iter().map(|rebuild| rebuild.rank);
                all.breaks.extend(rebuilds.filter(|rank| rank >= from && rank < until));
            }
        }
        all.breaks.sort_unstable();
        all
    }

    /// Whether nothing but settings came between two ranks; `loaded` where what is aboard matters too.
    #[must_use]
    pub fn is_quiet(&self, from: Rank, until: Rank, loaded: bool) -> bool {
        let none = |list: &[Rank]| {
            let first = list.partition_point(|rank| *rank <= from);
            list.get(first).is_none_or(|rank| *rank >= until)
        };
        none(&self.breaks) && (!loaded || none(&self.aboard))
    }

    /// What was set between two ranks.
    pub fn turned(&self, from: Rank, until: Rank) -> impl Iterator<Item = &Turned> {
        let first = self.turned.partition_point(|one| one.rank <= from);
        self.turned.iter().skip(first).take_while(move |one| one.rank < until)
    }
}

const fn sets(entry: &Entry) -> bool {
    matches!(entry.verb, Verb::Set | Verb::Adjust)
}

/// Verbs after which a reading is of another car, in a manner of speaking.
const fn upsets(verb: Verb) -> bool {
    matches!(
        verb,
        Verb::Run
            | Verb::Hit
            | Verb::Failed
            | Verb::Fit
            | Verb::Remove
            | Verb::Swap
            | Verb::Move
            | Verb::Build
            | Verb::Strip
            | Verb::Rebuild
    )
}

/// At what a setting stands at a place before a rank, SI. One that is counted from where it stood begins at nought; `None` where nobody
/// knows, or where it is no number.
#[must_use]
pub fn stands(facts: Facts<'_>, car: CarId, rank: Rank, quantity: QuantityId, place: Place) -> Option<f64> {
    let standing = facts.on(car, rank);
    let slot = standing.slot(quantity, place);
    let untouched = slot.map_or_else(
        || facts.history.slots.lost_at(facts.book, Owner::Car(car), quantity, place).next().is_none(),
        |slot| slot.held.unknown.is_none() && slot.held.is(facts.history).is_none(),
    );
    standing.number(quantity, place).or_else(|| facts.book.vocabulary.get(quantity).nought(untouched))
}
