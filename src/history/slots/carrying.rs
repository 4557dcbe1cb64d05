//! Whose a slot is: the car's, or that of the part that carries its quantity there.
//!
//! Must not know what a slot holds.

use crate::book::Book;
use crate::book::model::{CarId, KindId, PartId};
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::parts::Parts;
use crate::vocabulary::QuantityId;
use rustc_hash::FxHashMap;
use std::collections::BTreeSet;

/// Whose a slot is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Owner {
    /// A car's.
    Car(CarId),
    /// A part's: it travels along.
    Part(PartId),
}

/// Which parts bring which quantities along.
#[derive(Debug, Clone, Copy)]
pub struct Carrying<'a> {
    /// Kinds that carry or give a quantity.
    pub carriers: &'a FxHashMap<QuantityId, Vec<KindId>>,
    /// The book.
    pub book: &'a Book,
    /// Where its parts are.
    pub parts: &'a Parts,
}

/// The places that a place is in, the nearest first: a corner is in its axle, in all four, in the whole car.
pub(super) fn wider(place: Place) -> [Place; 3] {
    [place.axle().unwrap_or(Place::ALL), Place::ALL, Place::CAR]
}

impl Carrying<'_> {
    /// Whose a slot is: a part's where a part in that place carries the quantity, else the car's.
    #[must_use]
    pub fn owner(&self, car: CarId, quantity: QuantityId, place: Place, rank: Rank) -> Owner {
        self.slot(car, quantity, place, rank).0
    }

    /// Whose a slot is and where in its owner: a part's where a part in that place, or in one that the place is in (a set of four),
    /// carries the quantity, else the car's.
    #[must_use]
    pub fn slot(&self, car: CarId, quantity: QuantityId, place: Place, rank: Rank) -> (Owner, Place) {
        if !self.carriers.contains_key(&quantity) {
            return (Owner::Car(car), place);
        }
        let carries = |kind: &KindId| self.book.kinds[*kind].carries.contains(&quantity);
        let at = |there: Place| self.holder(carries, car, quantity, there, rank).map(Owner::Part);
        if let Some(part) = at(place) {
            return (part, Place::CAR);
        }
        let set = wider(place).into_iter().filter(|there| *there != place).find_map(at);
        (set.unwrap_or(Owner::Car(car)), place)
    }

    /// The part in that place that gives the quantity (a spring its rate), if one is fitted.
    #[must_use]
    pub fn giver(&self, car: CarId, quantity: QuantityId, place: Place, rank: Rank) -> Option<PartId> {
        let gives = |kind: &KindId| self.book.kinds[*kind].gives.contains(&quantity);
        self.holder(gives, car, quantity, place, rank)
    }

    /// The parts on a car that carry the quantity, wherever they are.
    #[must_use]
    pub fn carried_on(&self, car: CarId, quantity: QuantityId, rank: Rank) -> BTreeSet<PartId> {
        if !self.carriers.contains_key(&quantity) {
            return BTreeSet::new();
        }
        let carries = |kind: &KindId| self.book.kinds[*kind].carries.contains(&quantity);
        let places = self.parts.places_of(car).iter().filter(|(kind, _)| carries(kind));
        places.filter_map(|(kind, place)| self.parts.holder(car, *kind, *place, rank)).collect()
    }

    fn holder(
        &self,
        brings: impl Fn(&KindId) -> bool,
        car: CarId,
        quantity: QuantityId,
        place: Place,
        rank: Rank,
    ) -> Option<PartId> {
        let kinds = self.parts.kinds_there(self.carriers.get(&quantity)?, car, place, rank);
        kinds.iter().filter(|kind| brings(kind)).find_map(|kind| self.parts.holder(car, *kind, place, rank))
    }
}
