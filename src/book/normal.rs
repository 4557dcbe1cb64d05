//! What is normal: the one answer to what holds at a place of a car, out of the ranges that it, its class and the vocabulary state.
//!
//! Must not know lines, nor messages. Every number is SI.

use super::entry::{Flags, Item};
use super::ids::CarId;
use super::names::Thing;
use super::place::Place;
use super::range::{Bound, Limits, Says, StatedRange};
use super::whole::Book;
use crate::source::Span;
use crate::units::DimensionId;
use crate::vocabulary::{Form, Places, Quantity, QuantityId};

/// What is normal of a quantity at a place.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Normal {
    /// Outside it is asked about.
    pub usual: Option<Limits>,
    /// Outside it is refused.
    pub possible: Option<Limits>,
}

impl Normal {
    /// What a car or a class says stands before what was said of it more widely. What is usual is possible, too.
    fn under(&mut self, ranges: &[StatedRange], quantity: QuantityId, place: Place, says: Says) {
        let of = |bound| closest(ranges, quantity, place, bound);
        let limits = |stated: &StatedRange| Limits { low: stated.low, high: stated.high, says };
        let (usual, possible) = (of(Bound::Usual).map(limits), of(Bound::Possible).map(limits));
        self.possible = possible.or(self.possible);
        if let Some(usual) = usual {
            self.usual = Some(usual);
            let wider = |limits: Limits| {
                if limits.hold(usual.low) && limits.hold(usual.high) { limits } else { limits.with(&usual) }
            };
            self.possible = self.possible.map(wider);
        }
    }

    /// The same with whatever some car has as well.
    fn or_of(&mut self, ranges: &[StatedRange], quantity: QuantityId, says: Says) {
        for stated in ranges.iter().filter(|stated| stated.quantity == quantity) {
            let limits = Limits { low: stated.low, high: stated.high, says };
            let grow = |held: Limits| {
                // No one car says the whole of it.
                Limits { says: held.says, ..held.with(&limits) }
            };
            self.possible = self.possible.map(grow);
            if stated.bound == Bound::Usual {
                self.usual = self.usual.map(grow);
            }
        }
    }
}

/// The range that names a place most closely.
#[must_use]
pub fn closest(
    ranges: &[StatedRange],
    quantity: QuantityId,
    place: Place,
    bound: Bound,
) -> Option<&StatedRange> {
    let of = ranges.iter().filter(|stated| stated.quantity == quantity && stated.bound == bound);
    of.filter_map(|stated| Some((stated.closeness(place)?, stated)))
        .max_by_key(|(closeness, _)| *closeness)
        .map(|(_, stated)| stated)
}

/// What is wrong between the ranges of one car or one class: a second for the same places, at the second; what is usual outside what
/// is possible, at what is usual.
#[must_use]
pub fn contradictions(
    ranges: &[StatedRange],
    quantities: impl Fn(QuantityId) -> Places,
) -> Vec<Contradiction> {
    let mut found = Vec::new();
    for (index, stated) in ranges.iter().enumerate() {
        let before = ranges.get(..index).unwrap_or_default();
        if let Some(first) = before.iter().find(|first| first.rivals(stated)) {
            found.push(Contradiction::Twice { at: stated.typed, first: first.typed });
            continue;
        }
        let governs = |place: &Place, bound| closest(ranges, stated.quantity, *place, bound);
        let beyond = places_of(quantities(stated.quantity)).find_map(|place| {
            let (usual, possible) = (governs(&place, Bound::Usual)?, governs(&place, Bound::Possible)?);
            let limits = Limits { low: possible.low, high: possible.high, says: Says::Vocabulary };
            let within = limits.hold(usual.low) && limits.hold(usual.high);
            (!within && std::ptr::eq(usual, stated)).then_some(possible.typed)
        });
        found.extend(beyond.map(|possible| Contradiction::Beyond { at: stated.typed, possible }));
    }
    found
}

/// Two ranges that do not go together, as typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Contradiction {
    /// The same is said twice.
    Twice {
        /// The second.
        at: Span,
        /// The first.
        first: Span,
    },
    /// What is usual is not possible.
    Beyond {
        /// What is usual.
        at: Span,
        /// What is possible.
        possible: Span,
    },
}

/// Every place that a quantity may have a value at.
fn places_of(places: Places) -> impl Iterator<Item = Place> {
    let if_has = move |class, list: Vec<Place>| if places.has(class) { list } else { Vec::new() };
    if_has(Places::CAR, vec![Place::CAR])
        .into_iter()
        .chain(if_has(Places::CORNER, Place::CORNERS.to_vec()))
        .chain(if_has(Places::AXLE, vec![Place::FRONT, Place::REAR]))
        .chain(if_has(Places::CYLINDER, (1..=40).map(Place::cylinder).collect()))
        .chain(if_has(Places::GEAR, (1..=20).map(Place::gear).collect()))
}

/// The number of an item that a range is about; none where it has none, or where the range is of something else: of a fluid its
/// amount, of a pair without a unit its two numbers (teeth are one ratio). Of an axle toe is the total of two wheels, and the range is one wheel's.
#[must_use]
pub fn judged(quantity: &Quantity, item: &Item) -> Option<f64> {
    let plain = quantity.form != Form::One && item.unit().get().shown().is_empty();
    let parts = plain && (quantity.dimension != DimensionId::RATIO || item.is(Flags::PART));
    let number = item.has_value() && !item.is(Flags::OLD);
    (number && quantity.dimension != DimensionId::FLUID && !parts)
        .then(|| share(quantity, item.place, item.si))
}

/// One wheel's share of a value, SI.
#[must_use]
pub fn share(quantity: &Quantity, place: Place, si: f64) -> f64 {
    if quantity.dimension == DimensionId::TOE && place.is_axle() { si / 2.0 } else { si }
}

impl Book {
    /// What is normal of a quantity at a place of a car: what the car says, else its class, else the vocabulary. Of no car (a part on
    /// the bench) whatever is normal on some car of the book, and of one whose class could not be read whatever is in some class.
    #[must_use]
    pub fn normal(&self, car: Option<CarId>, quantity: QuantityId, place: Place) -> Normal {
        let of = self.vocabulary.get(quantity);
        let limits = |(low, high)| Limits { low, high, says: Says::Vocabulary };
        let mut normal = Normal { usual: of.usual.map(limits), possible: of.possible.map(limits) };
        if let Some((id, car)) = car.and_then(|id| Some((id, self.cars.get(id)?))) {
            if let Some((class, of_class)) = car.of_class.and_then(|id| Some((id, self.classes.get(id)?))) {
                normal.under(&of_class.ranges, quantity, place, Says::Class(class));
            }
            if self.unread.has(Some(Thing::Car(id)), "class") {
                for (id, class) in self.classes.iter_enumerated() {
                    normal.or_of(&class.ranges, quantity, Says::Class(id));
                }
            }
            normal.under(&car.ranges, quantity, place, Says::Car(id));
        } else {
            for (id, class) in self.classes.iter_enumerated() {
                normal.or_of(&class.ranges, quantity, Says::Class(id));
            }
            for (id, car) in self.cars.iter_enumerated() {
                normal.or_of(&car.ranges, quantity, Says::Car(id));
            }
        }
        normal
    }
}
