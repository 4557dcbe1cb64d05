//! Parts inside parts: built in, stripped out, rebuilt with all in them, put right by another of the kind.
//!
//! Must not know cars or places.

use super::{Fold, Rebuild, Where};
use crate::book::entry::{EntryId, PartFacts, Verdict};
use crate::book::model::PartId;
use crate::history::order::Rank;
use crate::history::problem::Problem;

impl Fold<'_> {
    pub(super) fn build(&mut self, part: PartId, into: PartId, entry: EntryId, rank: Rank) {
        let mut above = Some(into);
        while let Some(each) = above {
            if each == part {
                self.tell(entry, Problem::InsideCircle { entry, part });
                return;
            }
            above = match self.state(each) {
                Where::Inside(assembly) => Some(assembly),
                _ => None,
            };
        }
        self.lent_away(into, entry);
        if let there @ (Where::Car(..) | Where::Inside(_)) = self.state(part) {
            if !self.doubted.contains_key(&part) {
                let since = self.since(part).unwrap_or(entry);
                self.tell(entry, Problem::PartInTwoPlaces { entry, part, there, since });
                self.doubt(part, rank);
                self.claim(part, None, (rank, Rank::END));
                return;
            }
            self.leave(part, entry, rank, self.rest(part));
        }
        let inside = self.kind(part).map(|kind| &self.book.kinds[kind].inside);
        if let (Some(inside), Some(kind)) = (inside, self.kind(into))
            && let Some(wanted) = inside.first()
            && !inside.contains(&kind)
        {
            self.tell(entry, Problem::KindDiffers { entry, part: into, kind: *wanted });
            return;
        }
        if self.usable(part, entry) {
            self.leave(part, entry, rank, Where::Inside(into));
            self.mended_by(part, into, entry, rank);
        }
    }

    pub(super) fn mended(&mut self, part: PartId, entry: EntryId, rank: Rank) {
        let history = &mut self.parts.all[part];
        if history.broken.take().is_some() {
            history.mends.push(Rebuild { rank, entry });
        }
    }

    /// An assembly that failed is put right when a part comes out of it as failed and one of that kind goes in.
    pub(super) fn mended_by(&mut self, part: PartId, into: PartId, entry: EntryId, rank: Rank) {
        let Some(failed) = self.parts.all[into].broken else { return };
        let (kind, failed) = (self.kind(part), self.order.rank[failed]);
        let out = self.parts.all.iter_enumerated().any(|(at, other)| {
            let was_in = other.stays.iter().rev().nth(1).is_some_and(|stay| stay.at == Where::Inside(into));
            let after =
                other.stays.last().is_some_and(|stay| stay.at == Where::Failed && stay.from >= failed);
            was_in && after && self.kind(at) == kind
        });
        if out {
            self.mended(into, entry, rank);
        }
    }

    /// A part comes out of an assembly.
    pub(super) fn strip(&mut self, part: PartId, facts: &PartFacts, index: EntryId, rank: Rank) {
        let failed = facts.verdict == Some(Verdict::Failed);
        if let Some(from) = facts.other {
            // Where it is not, it comes off wherever it was, if a mistake before leaves that open.
            let comes_out = self.state(part) == Where::Inside(from)
                || self.not_there(part, None, None, index, rank)
                    && matches!(self.state(part), Where::Car(..) | Where::Inside(_));
            if comes_out {
                self.lent_away(part, index);
                let to = self.off(part, failed, index);
                self.leave(part, index, rank, to);
            }
        }
    }

    /// A part is rebuilt, and with `deep` everything inside it.
    pub(super) fn rebuild(&mut self, part: PartId, deep: bool, index: EntryId, rank: Rank) {
        let mut all = vec![part];
        let mut next = 0;
        while deep && let Some(assembly) = all.get(next) {
            all.extend_from_slice(&self.parts.all[*assembly].inside);
            next += 1;
        }
        for part in all {
            let history = &mut self.parts.all[part];
            history.rebuilds.push(Rebuild { rank, entry: index });
            history.broken = None;
            if history.now() == Where::Failed {
                self.leave(part, index, rank, self.rest(part));
            }
        }
    }
}
