//! What a cost is shared out by: the cars, and a weight for each.
//!
//! Must not know sums.

use super::problem::Unshared;
use super::ran::{CarRan, Ran};
use crate::book::entry::{EntryId, Split, SplitKey};
use crate::book::model::{CarId, EventId};
use jiff::civil::Date;

/// More cars than these do not share a cost unless they are named: one short line would become a thousand.
const MOST: usize = 64;

/// What each car bears of a shared cost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Shares {
    /// A weight each.
    Known(Vec<u64>),
    /// Nobody knows what all of them ran.
    NotKnown {
        /// The session that does not say how long it was; `None` where a line with a mistake is why.
        untimed: Option<EntryId>,
    },
}

impl Shares {
    /// The weights, where they are known.
    pub fn known(&self) -> Option<&[u64]> {
        match self {
            Self::Known(weights) => Some(weights),
            Self::NotKnown { .. } => None,
        }
    }
}

/// The cars that share and their weights. Running minutes and events are counted
/// at the line's event where it has one, else over the year of its day.
///
/// # Errors
/// Why there is nothing to share by.
pub fn weights(
    ran: &Ran<'_>,
    split: &Split,
    event: Option<EventId>,
    day: Date,
) -> Result<(Vec<CarId>, Shares), Unshared> {
    let all = match event {
        Some(event) => ran.at(event),
        None => ran.in_year(day.year()),
    };
    let cars = if split.among.is_empty() {
        all.into_iter().flat_map(|all| all.keys().copied()).collect()
    } else {
        split.among.clone()
    };
    if split.among.is_empty() && cars.len() > MOST {
        return Err(Unshared::TooMany(cars.len()));
    }
    // What one of them ran is not known: neither is any share.
    let ran_of = |car: &CarId| all.and_then(|all| all.get(car));
    let open = |open: &dyn Fn(&CarRan) -> bool| cars.iter().filter_map(ran_of).find(|ran| open(ran));
    let unknown = match split.key {
        SplitKey::Minutes => open(&|ran| ran.untimed.is_some()),
        SplitKey::Events => open(&|ran| ran.lost),
        SplitKey::Equal | SplitKey::Parts(_) => None,
    };
    if let Some(ran) = unknown {
        let untimed = ran.untimed.filter(|_| !ran.lost);
        return Ok((cars, Shares::NotKnown { untimed }));
    }
    let of = |weight: &dyn Fn(&CarRan) -> u64| -> Vec<u64> {
        cars.iter().map(|car| ran_of(car).map_or(0, weight)).collect()
    };
    let weights = match &split.key {
        SplitKey::Equal => cars.iter().map(|_| 1).collect(),
        SplitKey::Parts(parts) => parts.iter().map(|part| u64::from(*part)).collect(),
        SplitKey::Minutes => of(&|car| car.seconds),
        SplitKey::Events => of(&|car| car.events.len() as u64),
    };
    if weights.iter().any(|weight| *weight > 0) {
        return Ok((cars, Shares::Known(weights)));
    }
    Err(match (&split.key, split.among.is_empty()) {
        (SplitKey::Parts(_), _) => Unshared::NoParts,
        (_, true) => Unshared::NobodyRan,
        (_, false) => Unshared::TheseDidNotRun,
    })
}
