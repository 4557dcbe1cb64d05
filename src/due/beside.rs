//! What is to be seen to beside the cars: parts that are to come back or to go back, and kinds of which too few are on hand.
//!
//! Must not know words.

use super::plan::Plan;
use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::model::{KindId, PartId};
use crate::book::names::Thing;
use crate::history::History;
use crate::history::jobs;
use crate::history::parts::loan;
use crate::history::stock::OnHand;
use jiff::civil::Date;

/// A part that is lent or borrowed, with a day to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Loaned {
    /// The part.
    pub part: PartId,
    /// Lent by the shop; else borrowed by it.
    pub lent: bool,
    /// Borrowed on approval.
    pub approval: bool,
    /// The line that lent or borrowed it.
    pub entry: EntryId,
    /// The day until which.
    pub until: Date,
    /// Days to it from the plan's day, below zero when past.
    pub days_left: i32,
}

/// A kind of which fewer are on hand than are to be kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Short {
    /// The kind.
    pub kind: KindId,
    /// How many are to be kept; `None` where that could not be read.
    pub keep: Option<u32>,
    /// How many there are.
    pub on_hand: OnHand,
    /// The line that counted them last.
    pub counted: Option<EntryId>,
}

/// Parts lent or borrowed until a day that comes before the end of the event, the soonest first.
#[must_use]
pub fn loaned(book: &Book, history: &History, plan: &Plan) -> Vec<Loaned> {
    let end = plan.end;
    let mut all = Vec::new();
    for (part, told) in history.parts.all.iter_enumerated() {
        let Some(one) = told.loan(plan.cut) else { continue };
        let entry = one.out.1;
        let Some(facts) = loan::facts(book, entry) else { continue };
        let Some(until) = facts.until.and_then(|(until, _)| jobs::ends(book, Some(until))) else { continue };
        // What is inside something lent comes back with it.
        if loan::names(book, entry, part) && until <= end {
            let days_left = plan.today.until(until).map_or(0, |span| span.get_days());
            let (lent, approval) = (one.lent, facts.approval);
            all.push(Loaned { part, lent, approval, entry, until, days_left });
        }
    }
    all.sort_by_key(|one| (one.until, one.part));
    all
}

/// Kinds of which too few are on hand, or nobody knows how many, in the order of the book.
#[must_use]
pub fn short(book: &Book, history: &History, plan: &Plan) -> Vec<Short> {
    let unread = |kind| book.unread.has(Some(Thing::Kind(kind)), "keep");
    let kept = book.kinds.iter_enumerated().map(|(kind, declared)| (kind, declared.keep));
    kept.filter(|(kind, keep)| keep.is_some() || unread(*kind))
        .filter_map(|(kind, keep)| {
            let on_hand = history.stock.on_hand(book, &history.parts, kind, plan.cut);
            let enough =
                matches!((on_hand, keep), (OnHand::Count(count), Some(keep)) if count >= i64::from(keep));
            let counted = history.stock.counted(kind, plan.cut).map(|step| step.entry);
            (!enough).then_some(Short { kind, keep, on_hand, counted })
        })
        .collect()
}
