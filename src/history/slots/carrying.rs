//! Whose a slot is: the car's, or that of a part which brings the quantity along.
//!
//! Must not know what a slot holds.

use crate::book::Book;
use crate::book::model::{CarId, KindId, PartId};
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::parts::Parts;
use crate::vocabulary::QuantityId;
use rustc_hash::FxHashMap;

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

impl Carrying<'_> {
    /// Whose a slot is: a part's where a part in that place carries the quantity, else the car's.
    #[must_use]
    pub fn owner(&self, car: CarId, quantity: QuantityId, place: Place, rank: Rank) -> Owner {
        let carries = |kind: &KindId| self.book.kinds[*kind].carries.contains(&quantity);
        self.holder(carries, car, quantity, place, rank).map_or(Owner::Car(car), Owner::Part)
    }

    /// The part in that place that gives the quantity (a spring its rate), if one is fitted.
    #[must_use]
    pub fn giver(&self, car: CarId, quantity: QuantityId, place: Place, rank: Rank) -> Option<PartId> {
        let gives = |kind: &KindId| self.book.kinds[*kind].gives.contains(&quantity);
        self.holder(gives, car, quantity, place, rank)
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
