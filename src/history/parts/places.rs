//! Where a kind goes on a car, and who must make way there.
//!
//! Must not know the lines that say so.

use super::{Fold, Where};
use crate::book::model::{CarId, KindId, PartId};
use crate::book::place::Place;

impl Fold<'_> {
    /// Takes whatever part is where `part` is about to go to the shelf.
    pub(super) fn make_way(
        &mut self,
        part: PartId,
        car: Option<CarId>,
        place: Option<Place>,
        entry: u32,
        rank: u32,
    ) {
        let (Some(car), Some(kind)) = (car, self.kind(part)) else { return };
        if let Ok(place) = self.place_for(kind, car, place)
            && let Some(holds) = self.holds.get(&(car, kind, place)).copied()
            && holds != part
        {
            self.leave(holds, entry, rank, Where::Shelf);
        }
    }

    /// Where a kind goes on a car: the place said, if it fits there, or its only place. `Err(true)`: several fit.
    pub(super) fn place_for(&self, kind: KindId, car: CarId, place: Option<Place>) -> Result<Place, bool> {
        let fits = &self.book.kinds[kind.0 as usize].fits;
        let mut places: Vec<Place> = fits
            .iter()
            .filter(|fit| fit.cars.is_empty() || fit.cars.contains(&car))
            .flat_map(|fit| fit.places.iter().copied())
            .collect();
        places.dedup();
        match place {
            Some(place) => {
                let spread = places
                    .iter()
                    .any(|fit| *fit == place || fit.corners().contains(&place) && *fit != Place::ALL);
                if spread { Ok(place) } else { Err(false) }
            }
            None => match places.as_slice() {
                [] => Err(false),
                [only] => Ok(*only),
                _ => Err(true),
            },
        }
    }
}
