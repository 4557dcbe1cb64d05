//! What the worth of a turn depends on besides the turn: how stiff the car is, and whether its bars were on.
//!
//! A turn on other springs was worth something else. Must not know readings, nor slopes.

use super::sighting::{Outcome, Sighting};
use crate::book::Book;
use crate::book::model::{CarId, KindId, PartId};
use crate::book::place::Place;
use crate::figures::Calc;
use crate::history::order::Rank;
use crate::history::{Facts, Moment, likeness};
use crate::units::DimensionId;
use crate::vocabulary::{Places, Quantity, QuantityId};

/// In which of these two states differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Differs {
    /// The bars were on, and are off, or the other way round.
    Bars,
    /// This is stiffer, or softer.
    Stiffness(QuantityId),
    /// Another spring or bar was on, and nobody says how stiff the two are.
    Parts(KindId),
}

/// How stiff a car was.
#[derive(Debug, Clone, PartialEq)]
pub struct HowStiff {
    bars: Option<bool>,
    stiff: Vec<(QuantityId, Place, Option<f64>)>,
    springs: Vec<(KindId, Place, Option<PartId>)>,
}

/// Two rates are the same within this share: a spring benched again is the same spring.
const SAME: f64 = 0.01;

/// The state of a car at a rank, for an outcome read as on a line; what was turned is none of it.
pub fn at(
    facts: Facts<'_>,
    car: CarId,
    rank: Rank,
    (outcome, cause): (Outcome, QuantityId),
    read: &Sighting,
) -> HowStiff {
    let vocabulary = &facts.book.vocabulary;
    let bars = facts.book.entries.get(read.line).and_then(|entry| likeness::bars(facts, entry));
    let mut calc = Calc::new(facts, car, &Moment::of_rank(rank));
    let stiff = vocabulary.iter().filter(|(id, quantity)| {
        *id != cause && is_stiffness(quantity) && vocabulary.moves(*id, outcome.quantity())
    });
    let stiff = stiff.flat_map(|(id, quantity)| {
        // What a spring's tag says is how stiff it is where nobody benched it.
        let number = |place: Place| {
            let value = calc.typed_value(&quantity.name, place).ok().map(|fig| fig.value);
            (id, place, value)
        };
        places(quantity).into_iter().map(number).collect::<Vec<_>>()
    });
    // Bars that are off carry nothing, whatever hole their links are in.
    let off = bars == Some(false);
    let of_bar = vocabulary.find("bar-hole");
    let stiff = stiff.filter(|(id, ..)| !(off && Some(*id) == of_bar)).collect();
    HowStiff { bars, stiff, springs: springs(facts, car, rank) }
}

/// The springs and bars on a car by their place: of kinds that bring a stiffness, or are called so.
fn springs(facts: Facts<'_>, car: CarId, rank: Rank) -> Vec<(KindId, Place, Option<PartId>)> {
    let parts = &facts.history.parts;
    let stiff = |id: &QuantityId| facts.book.vocabulary.get(*id).dimension == DimensionId::STIFFNESS;
    let is_one = |kind: KindId| {
        facts.book.kinds.get(kind).is_some_and(|kind| {
            let called = [kind.named.name.to_string(), kind.named.title.to_lowercase()];
            let words = called.iter().flat_map(|text| text.split(|one: char| !one.is_alphanumeric()));
            kind.gives.iter().chain(&kind.carries).any(stiff)
                || words.into_iter().any(|word| matches!(word, "spring" | "springs" | "bar" | "bars" | "arb"))
        })
    };
    let places = parts.places_of(car).iter().filter(|(kind, _)| is_one(*kind));
    places.map(|(kind, place)| (*kind, *place, parts.holder(car, *kind, *place, rank))).collect()
}

fn is_stiffness(quantity: &Quantity) -> bool {
    matches!(quantity.dimension, DimensionId::STIFFNESS | DimensionId::POSITION)
}

fn places(quantity: &Quantity) -> Vec<Place> {
    let of = [
        (Places::CORNER, &Place::CORNERS[..]),
        (Places::AXLE, &[Place::FRONT, Place::REAR][..]),
        (Places::CAR, &[Place::CAR][..]),
    ];
    of.into_iter()
        .filter(|(class, _)| quantity.places.has(*class))
        .flat_map(|(_, list)| list.to_vec())
        .collect()
}

impl HowStiff {
    /// In what it differs from another.
    pub fn differs(&self, book: &Book, other: &Self) -> Option<Differs> {
        if self.bars != other.bars {
            return Some(Differs::Bars);
        }
        let same = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => (a - b).abs() <= SAME * a.abs().max(b.abs()),
            (a, b) => a.is_none() && b.is_none(),
        };
        let pairs = || self.stiff.iter().zip(&other.stiff);
        if let Some((one, _)) = pairs().find(|(a, b)| !same(a.2, b.2)) {
            return Some(Differs::Stiffness(one.0));
        }
        // Of springs whose rates are known the rates have spoken.
        let told = |at: Place| {
            pairs().any(|(a, b)| {
                let rate = book.vocabulary.get(a.0).dimension == DimensionId::STIFFNESS;
                rate && a.2.is_some() && b.2.is_some() && (at.covers(a.1) || a.1.covers(at))
            })
        };
        let springs = self.springs.iter().zip(&other.springs);
        let mut another = springs.filter(|(a, b)| a.2 != b.2 && !told(a.1));
        another.next().map(|(one, _)| Differs::Parts(one.0))
    }
}
