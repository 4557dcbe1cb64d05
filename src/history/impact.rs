//! Parts that were on a car when it was hit, and whether anybody has looked at them since.
//!
//! Must not know pages or what is planned. A part is concerned where it was at the place that was hit; anywhere on the car where its
//! kind is one of safety or it is good until a day.

use super::History;
use super::dated;
use super::parts::{Stay, Where};
use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::{CarId, PartId};
use crate::book::place::Place;
use crate::history::order::Rank;

/// An impact that nobody has looked at a part since.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unseen {
    /// The line of the impact.
    pub entry: EntryId,
    /// The car that was hit.
    pub car: CarId,
    /// Where the part was on it.
    pub place: Place,
}

/// Whether a line looks at a part, or makes it new.
#[must_use]
pub const fn looks(verb: Verb) -> bool {
    matches!(verb, Verb::Inspect | Verb::Service | Verb::Release | Verb::Rebuild | Verb::Failed)
}

/// The last impact before `rank` that a part was in, where nobody has looked at it by then.
#[must_use]
pub fn unseen(book: &Book, history: &History, part: PartId, rank: Rank) -> Option<Unseen> {
    let lines = history.parts.get(part);
    let stays = || lines.stays.iter().filter_map(|stay| Some((stay.car?, stay)));
    // Few cars are ever hit.
    let hit = |(car, stay): (CarId, &Stay)| {
        history.disturbances.hits(car, stay.from, stay.until.min(rank)).next().is_some()
    };
    if !stays().any(hit) {
        return None;
    }
    let declared = book.parts.get(part)?;
    let safety = declared.kind.and_then(|kind| book.kinds.get(kind)).is_some_and(|kind| kind.safety);
    let anywhere = safety || declared.valid_until.is_some() || !dated::rules(book, declared).is_empty();
    let hits = stays().flat_map(|(car, stay)| {
        let own = history.disturbances.hits(car, stay.from, stay.until.min(rank));
        own.filter_map(move |hit| Some((hit, place(history, part, hit.rank)?)))
            .filter(move |(hit, (at, place))| *at == car && (anywhere || place.touches(hit.place)))
    });
    let (hit, (car, place)) = hits.max_by_key(|(hit, _)| hit.rank)?;
    let since = |at: Rank| at > hit.rank && at < rank;
    let looked = lines.seen.iter().any(|seen| since(seen.rank))
        || lines.rebuilds.iter().any(|rebuild| since(rebuild.rank))
        || lines.lines.iter().any(|line| {
            let entry = book.entries.get(*line);
            entry.is_some_and(|entry| looks(entry.verb))
                && history.order.rank.get(*line).is_some_and(|at| since(*at))
        });
    (!looked).then_some(Unseen { entry: hit.entry, car, place })
}

/// The car and the place a part is at the moment before a rank, whatever it is inside of.
fn place(history: &History, part: PartId, rank: Rank) -> Option<(CarId, Place)> {
    let mut at = part;
    // A loop that ends, whatever a mistaken book puts inside what.
    for _ in 0..=history.parts.all.len() {
        match history.parts.get(at).at(rank)?.at {
            Where::Car(car, place) => return Some((car, place)),
            Where::Inside(assembly) => at = assembly,
            _ => return None,
        }
    }
    None
}
