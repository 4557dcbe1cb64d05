//! How the clicks of a line count in their slot, and what is wrong when they do not.
//!
//! Must not know what a slot does with its values.

use super::{Fold, Owner, Register, TrackId};
use crate::book::entry::{Entry, EntryId, ItemId, Verb};
use crate::book::names::Thing;
use crate::history::clicks::{self, ClickTrouble, Counting};
use crate::history::problem::Problem;
use crate::units::DimensionId;

impl Fold<'_> {
    /// How the line counts, for clicks; `None` where its number stands for nothing, which is said once a line.
    pub(super) fn counting(
        &mut self,
        track: TrackId,
        index: EntryId,
        entry: &Entry,
        owner: Owner,
        item: ItemId,
    ) -> Option<Counting> {
        let book = self.book;
        let quantity = self.tracks[track].quantity;
        if book.vocabulary.get(quantity).dimension != DimensionId::CLICK || !book.items[item].has_value() {
            return Some(Counting::PLAIN);
        }
        let part = match owner {
            Owner::Part(part) => Some(part),
            Owner::Car(_) => None,
        };
        let of_kind = part.and_then(|part| book.parts[part].kind);
        let kind = of_kind.and_then(|kind| book.kinds.get(kind));
        let unread =
            |property| of_kind.is_some_and(|kind| book.unread.has(Some(Thing::Kind(kind)), property));
        let line = book.extra(entry).and_then(|extra| extra.from_hard);
        let slot = self.datums[track];
        let typed = book.items[item].si;
        if entry.verb == Verb::Adjust {
            let counting = Counting::change(line, kind, slot);
            let base = self.tracks[track].events.last();
            let base = base.filter(|base| base.register() != Register::Unknown);
            if let (Some(part), Some(base)) = (part, base)
                && clicks::beyond(kind, base.value + counting.of(typed))
            {
                self.once(index, Problem::ClicksBeyondRange { entry: index, item, part });
                return None;
            }
            return Some(counting);
        }
        match Counting::absolute(line, kind, slot) {
            Ok((_, _)) if clicks::beyond(kind, typed) => {
                let part = part?;
                self.once(index, Problem::ClicksBeyondRange { entry: index, item, part });
                None
            }
            Ok((counting, datum)) => {
                self.datums[track] = Some(datum);
                Some(counting)
            }
            // What the kind says of them has its message.
            Err(ClickTrouble::NoDatum) if unread("from") => None,
            Err(ClickTrouble::OtherDatum) if unread("clicks") => None,
            Err(ClickTrouble::NoDatum) => {
                self.once(index, Problem::ClicksWithoutDatum { entry: index, item, part });
                None
            }
            Err(ClickTrouble::OtherDatum) => {
                let was = self.tracks[track].events.last().and_then(|event| event.entry);
                self.once(index, Problem::ClickDatumDiffers { entry: index, item, was });
                None
            }
        }
    }

    /// A problem that the corners of one line share.
    fn once(&mut self, index: EntryId, problem: Problem) {
        let said = match self.problems.last() {
            Some(
                Problem::ClicksBeyondRange { entry, .. }
                | Problem::ClicksWithoutDatum { entry, .. }
                | Problem::ClickDatumDiffers { entry, .. },
            ) => *entry == index,
            _ => false,
        };
        if !said {
            self.problems.push(problem);
        }
    }
}
