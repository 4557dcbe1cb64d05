//! What a turn is worth on this car: how much a reading moved for each bit that one setting was turned, from the car's own lines.
//!
//! Readings with nothing between them but turns of one setting stand in a chain. Each chain has its own level, so that only what changed
//! within it counts: a slope through no change, by least squares; moves on other springs, or with the bars otherwise, count for nothing. Nothing is said from fewer than three moves, nor beyond the range that
//! was tried. Must not know words, pages or the terminal.

mod between;
mod chain;
mod fit;
pub mod hot;
pub mod loads;
mod sighting;
pub mod solve;
mod state;

pub use fit::{LEAST, Refused, Slope, SlopeStep, Slopes};
pub use sighting::Outcome;
pub use state::Differs;

use crate::book::model::CarId;
use crate::history::Facts;
use crate::history::order::Rank;
use crate::vocabulary::QuantityId;
use between::Happenings;
pub use between::stands;

/// What one setting is worth for one outcome.
#[derive(Debug, Clone)]
pub struct Worth {
    /// What moved.
    pub outcome: Outcome,
    /// What was turned.
    pub cause: QuantityId,
    /// The slopes, by the place that was turned; or why there are none.
    pub slopes: Result<Slopes, Refused>,
}

/// What the settings of a car are worth, from the lines before a rank; in order of what moved, then of what was turned.
#[must_use]
pub fn of_car(facts: Facts<'_>, car: CarId, until: Rank) -> Vec<Worth> {
    let happenings = Happenings::of_car(facts, car);
    let mut all = Vec::new();
    for (outcome, sightings) in sighting::of_car(facts, car, until) {
        for (cause, chains) in chain::by_cause(facts, car, outcome, (&sightings, until), &happenings) {
            all.push(Worth { outcome, cause, slopes: fit::slopes(&chains) });
        }
    }
    all
}
