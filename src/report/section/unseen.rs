//! Parts that were in an impact on a car, are still kept, and that nobody has looked at since.
//!
//! Must not know who is told of them.

use crate::book::model::{CarId, PartId};
use crate::history::impact;
use crate::history::impact::Unseen;
use crate::history::order::Rank;
use crate::history::parts::{Stay, Where};
use crate::report::teller::Teller;

/// Those at the moment before a rank: the part, the impact, and where it is now; in the order of the book.
pub(super) fn unseen<'a>(
    tell: &'a Teller<'_>,
    car: CarId,
    rank: Rank,
) -> impl Iterator<Item = (PartId, Unseen, &'a Stay)> {
    let cx = &tell.cx;
    tell.travels().on(car).iter().copied().filter_map(move |part| {
        let hit = impact::unseen(cx.book, cx.history, part, rank).filter(|hit| hit.car == car)?;
        let now = cx.history.parts.get(part).at(rank)?;
        let kept = !(now.at.is_gone() || now.at == Where::Failed);
        // On another car it is that car's.
        let here = now.car.is_none_or(|on| on == car);
        (kept && here).then_some((part, hit, now))
    })
}
