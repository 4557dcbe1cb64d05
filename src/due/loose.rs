//! Parts that are off the planned cars, were on one of them in an impact, and have not been looked at since.
//!
//! Must not know words.

use super::plan::Plan;
use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::model::PartId;
use crate::history::History;
use crate::history::impact::{Unseen, unseen};
use crate::history::parts::Where;

/// A part that waits for somebody to look at it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Loose {
    /// The part.
    pub part: PartId,
    /// The impact, and where it was then.
    pub unseen: Unseen,
    /// The line that took it off.
    pub off: EntryId,
    /// Whether it is in quarantine.
    pub quarantine: bool,
}

/// Those of the planned cars, in the order they are declared.
#[must_use]
pub fn loose(book: &Book, history: &History, plan: &Plan) -> Vec<Loose> {
    let parts = book.parts.keys();
    let one = |part: PartId| {
        let stays = &history.parts.get(part).stays;
        let there = stays.iter().rev().find(|stay| stay.from < plan.cut)?;
        let waits = matches!(there.at, Where::Shelf | Where::Quarantine | Where::Inside(_));
        let unseen = (waits && there.car.is_none()).then(|| unseen(book, history, part, plan.cut))??;
        let off = history.parts.get(part).came_off(plan.cut)?;
        let planned = plan.of(unseen.car).is_some();
        let quarantine = there.at == Where::Quarantine;
        planned.then_some(Loose { part, unseen, off: off.entry, quarantine })
    };
    parts.filter_map(one).collect()
}
