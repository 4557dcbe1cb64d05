//! What a cost is shared out by: the cars, and a weight for each.
//!
//! Must not know sums.

use crate::book::Book;
use crate::book::entry::{Split, SplitKey};
use crate::book::model::{CarId, EventId};
use crate::history::History;
use crate::history::sessions::Session;
use jiff::civil::Date;
use std::collections::BTreeSet;

/// The cars that share and their weights; `None` where there is nothing to share by. Running minutes and events are counted
/// at the line's event where it has one, else over the year of its day.
pub fn weights(
    book: &Book,
    history: &History,
    split: &Split,
    event: Option<EventId>,
    day: Date,
) -> Option<(Vec<CarId>, Vec<u64>)> {
    let counts = |session: &Session| match event {
        Some(event) => session.event == Some(event),
        None => session.date.year() == day.year(),
    };
    let cars = if split.among.is_empty() {
        let ran = |car: &CarId| history.sessions.of(*car).any(|(_, session)| counts(session));
        (0..book.cars.len() as u32).map(CarId).filter(ran).collect()
    } else {
        split.among.clone()
    };
    let sessions =
        |car: &CarId| history.sessions.of(*car).map(|(_, session)| session).filter(|one| counts(one));
    let weights: Vec<u64> = match &split.key {
        SplitKey::Equal => cars.iter().map(|_| 1).collect(),
        SplitKey::Parts(parts) => parts.iter().map(|part| u64::from(*part)).collect(),
        SplitKey::Minutes => {
            cars.iter().map(|car| sessions(car).filter_map(Session::seconds).sum()).collect()
        }
        SplitKey::Events => {
            let events = |car| sessions(car).filter_map(|session| session.event).collect::<BTreeSet<_>>();
            cars.iter().map(|car| events(car).len() as u64).collect()
        }
    };
    weights.iter().any(|weight| *weight > 0).then_some((cars, weights))
}

/// The key's word.
pub const fn word(key: &SplitKey) -> &'static str {
    match key {
        SplitKey::Equal => "equal",
        SplitKey::Minutes => "minutes",
        SplitKey::Events => "events",
        SplitKey::Parts(_) => "parts",
    }
}
