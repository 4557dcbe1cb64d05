//! Which parts were ever on a car, and which were ever built into which.
//!
//! Made once a report, so that no page looks through all parts. Must not know pages.

use crate::book::Book;
use crate::book::model::{CarId, PartId};
use crate::history::History;
use crate::history::parts::Where;
use std::collections::BTreeMap;

/// Parts by the cars and the assemblies they were ever on or in, each list in the order of the book.
#[derive(Debug, Default)]
pub(super) struct Travels {
    on: BTreeMap<CarId, Vec<PartId>>,
    inside: BTreeMap<PartId, Vec<PartId>>,
}

impl Travels {
    pub fn new(book: &Book, history: &History) -> Self {
        let mut all = Self::default();
        let put = |list: &mut Vec<PartId>, part| {
            if list.last() != Some(&part) {
                list.push(part);
            }
        };
        for part in book.parts.keys() {
            for stay in &history.parts.get(part).stays {
                if let Some(car) = stay.car {
                    put(all.on.entry(car).or_default(), part);
                }
                if let Where::Inside(assembly) = stay.at {
                    put(all.inside.entry(assembly).or_default(), part);
                }
            }
        }
        all
    }

    /// Parts that were ever on a car, whatever they were inside of.
    pub fn on(&self, car: CarId) -> &[PartId] {
        self.on.get(&car).map_or(&[], Vec::as_slice)
    }

    /// Parts that were ever built into a part.
    pub fn inside(&self, assembly: PartId) -> &[PartId] {
        self.inside.get(&assembly).map_or(&[], Vec::as_slice)
    }
}
