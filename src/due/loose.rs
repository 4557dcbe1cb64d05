//! Parts that are off the planned cars and wait to be looked at: they were on one of them in an impact, or are in quarantine with nothing in their
//! place.
//!
//! Must not know words.

use super::plan::Plan;
use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::model::{CarId, PartId};
use crate::book::place::Place;
use crate::history::History;
use crate::history::impact::unseen;
use crate::history::parts::Where;

/// A part that waits for somebody to look at it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Loose {
    /// The part.
    pub part: PartId,
    /// The car it was on.
    pub car: CarId,
    /// Where it was on it.
    pub place: Place,
    /// The impact that nobody has looked at it since; `None` where it is in quarantine for something else.
    pub hit: Option<EntryId>,
    /// The line that took it off.
    pub off: EntryId,
    /// The line that put it in quarantine.
    pub quarantine: Option<EntryId>,
}

/// Those of the planned cars, in the order they are declared.
#[must_use]
pub fn loose(book: &Book, history: &History, plan: &Plan) -> Vec<Loose> {
    let parts = book.parts.keys();
    let one = |part: PartId| {
        let told = history.parts.get(part);
        let stays = &told.stays;
        let there = stays.iter().rev().find(|stay| stay.from < plan.cut)?;
        let waits = matches!(there.at, Where::Shelf | Where::Quarantine | Where::Inside(_));
        if !waits || there.car.is_some() {
            return None;
        }
        let quarantine = Some(there.entry).filter(|_| there.at == Where::Quarantine);
        let off = told.came_off(plan.cut)?.entry;
        let hit = unseen(book, history, part, plan.cut);
        if let Some(hit) = hit {
            let planned = plan.of(hit.car).is_some();
            let (car, place) = (hit.car, hit.place);
            return planned.then_some(Loose { part, car, place, hit: Some(hit.entry), off, quarantine });
        }
        // The car needs one there: it is a place that another has not taken since.
        let last = stays.iter().rev().filter(|stay| stay.from < plan.cut).find_map(|stay| match stay.at {
            Where::Car(car, place) => Some((car, place)),
            _ => None,
        });
        let ((car, place), kind) = (last?, book.parts.get(part)?.kind?);
        let empty = history.parts.holder(car, kind, place, plan.cut).is_none();
        let wanted = quarantine.is_some() && empty && plan.of(car).is_some();
        wanted.then_some(Loose { part, car, place, hit: None, off, quarantine })
    };
    parts.filter_map(one).collect()
}
