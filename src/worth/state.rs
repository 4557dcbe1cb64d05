//! What the worth of a turn depends on besides the turn: how stiff the car is, and whether its bars were on.
//!
//! A turn on other springs was worth something else. Must not know readings, nor slopes.

use super::sighting::{Outcome, Sighting};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::{Facts, likeness};
use crate::units::DimensionId;
use crate::vocabulary::{Places, Quantity, QuantityId};

/// In which of these two states differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Differs {
    /// The bars were on, and are off, or the other way round.
    Bars,
    /// This is stiffer, or softer.
    Stiffness(QuantityId),
}

/// How stiff a car was.
#[derive(Debug, Clone, PartialEq)]
pub struct HowStiff {
    bars: Option<bool>,
    stiff: Vec<(QuantityId, Place, Option<f64>)>,
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
    let standing = facts.on(car, rank);
    let stiff = vocabulary.iter().filter(|(id, quantity)| {
        *id != cause && is_stiffness(quantity) && vocabulary.moves(*id, outcome.quantity())
    });
    let stiff = stiff.flat_map(|(id, quantity)| {
        let number = |place: Place| (id, place, standing.number(id, place));
        places(quantity).into_iter().map(number).collect::<Vec<_>>()
    });
    // Bars that are off carry nothing, whatever hole their links are in.
    let off = bars == Some(false);
    let of_bar = vocabulary.find("bar-hole");
    HowStiff { bars, stiff: stiff.filter(|(id, ..)| !(off && Some(*id) == of_bar)).collect() }
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
    pub fn differs(&self, other: &Self) -> Option<Differs> {
        if self.bars != other.bars {
            return Some(Differs::Bars);
        }
        let same = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => (a - b).abs() <= SAME * a.abs().max(b.abs()),
            (a, b) => a.is_none() && b.is_none(),
        };
        let pairs = self.stiff.iter().zip(&other.stiff);
        pairs.filter(|(a, b)| !same(a.2, b.2)).map(|(a, _)| Differs::Stiffness(a.0)).next()
    }
}
