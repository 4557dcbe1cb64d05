//! What the car adds to a line.
//!
//! Must not know the line.

use super::place::Place;

/// What the car adds to a line.
#[derive(Debug, Clone, Copy, Default)]
pub struct Context {
    /// Cylinders of the car.
    pub cylinders: Option<u16>,
    /// Gears of the car.
    pub gears: Option<u16>,
    /// Where toe is measured, metres: the line's `over` or the car's own.
    pub toe_over: Option<f64>,
    /// -1 for a quantity spelt `...-out`, +1 for `...-in`, 0 where no direction was spelt.
    pub direction: i8,
}

impl Context {
    /// How many of them the car has, where a place is one beyond: `c5` of four cylinders, `g7` of five gears.
    #[must_use]
    pub fn beyond(&self, place: Place) -> Option<u16> {
        let over =
            |number: Option<u16>, has: Option<u16>| number.zip(has).filter(|(number, has)| number > has);
        let cylinder = over(place.cylinder_number(), self.cylinders);
        cylinder.or_else(|| over(place.gear_number(), self.gears)).map(|(_, has)| has)
    }
}
