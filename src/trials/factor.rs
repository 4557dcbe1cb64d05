//! What may differ between two runs of a car, and what it stood at.
//!
//! Must not know how a trial is found.

use crate::book::model::{KindId, PartId, PersonId};
use crate::book::place::Place;
use crate::history::History;
use crate::history::slots::{Owner, SlotEvent, Track};
use crate::vocabulary::QuantityId;

/// A thing that may differ between runs. The places of one quantity, or of one kind of part, are one thing: they are set together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Factor {
    /// What is set.
    Setting(QuantityId),
    /// Parts of one kind: who is in its places, what is in them, whether they were rebuilt.
    Parts(KindId),
    /// Who drove.
    Driver,
    /// What the run's line says of the weather and the track in words: `damp`.
    Weather,
    /// Whether something was hit before.
    Impact,
    /// Settings that the reader may not read.
    Hidden,
}

impl Factor {
    /// Whether somebody may have tried it: a thing of the car.
    #[must_use]
    pub const fn is_of_car(self) -> bool {
        matches!(self, Self::Setting(_) | Self::Parts(_))
    }
}

/// A value in a place, with the slot it stands in.
pub type PlacedValue = (Place, Option<(SlotEvent, TrackKey)>);

/// Which track a value stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TrackKey {
    /// Whose.
    pub owner: Owner,
    /// Of which quantity.
    pub quantity: QuantityId,
    /// Where in its owner.
    pub place: Place,
}

impl TrackKey {
    /// The key of a track.
    #[must_use]
    pub const fn of(track: &Track) -> Self {
        Self { owner: track.owner, quantity: track.quantity, place: track.place }
    }

    /// The track.
    #[must_use]
    pub fn track(self, history: &History) -> Option<&Track> {
        history.slots.find(self.owner, self.quantity, self.place)
    }
}

/// What a thing stood at in a run.
#[derive(Debug, Clone)]
pub enum Level {
    /// Values, by place.
    Setting(Vec<PlacedValue>),
    /// Who was in each place, what was in it, and how often it had been rebuilt.
    Parts(Vec<(Place, Option<PartId>, Vec<PartId>, usize)>),
    /// Who drove; `None` where nobody is said to have.
    Driver(Option<PersonId>),
    /// Words, in order; without `dry`, which goes without saying.
    Weather(Vec<String>),
    /// How many impacts, or hidden settings, came before.
    Times(usize),
}

/// What a run says of a thing: the number of its level, in order of first use; `None` where an error, a dispute or what the reader
/// may not read makes it unknown.
pub type LevelIndex = Option<usize>;

/// A thing at each run of an event.
#[derive(Debug, Clone)]
pub struct Standings {
    /// Which thing.
    pub factor: Factor,
    /// Its levels, in order of first use.
    pub levels: Vec<Level>,
    /// Of each run of the event.
    pub of_run: Vec<LevelIndex>,
}

impl Standings {
    /// Whether it is not the same in all runs.
    #[must_use]
    pub fn differs(&self) -> bool {
        let mut known = self.of_run.iter();
        let first = known.next();
        known.any(|level| Some(level) != first)
    }
}
