//! Parts that are away from where they belong: ours lent to others, others' borrowed by us, a client's own on the shop's shelf.
//!
//! A part is where it is, on a car, the shelf, in quarantine or away, and a loan says whose it is meanwhile and from when to when.
//! Must not know the other lines about parts, nor what is owed.

pub use super::lent::{Loan, facts, names};
use super::{Fold, Where};
use crate::book::entry::EntryId;
use crate::book::loan::UseAway;
use crate::book::model::{ClientId, PartId};
use crate::history::order::Rank;
use crate::history::problem::Problem;

impl super::PartHistory {
    /// The loan it is on at the moment before a rank.
    #[must_use]
    pub fn loan(&self, rank: Rank) -> Option<&Loan> {
        self.loans.iter().rev().find(|loan| loan.lasts(rank))
    }

    /// Whether it is somebody else's at the moment before a rank, borrowed.
    #[must_use]
    pub fn is_borrowed(&self, rank: Rank) -> bool {
        self.loan(rank).is_some_and(|loan| !loan.lent)
    }

    /// Whether it is the shop's own at the moment before a rank: no client's, and not borrowed.
    #[must_use]
    pub fn is_shops(&self, rank: Rank) -> bool {
        self.owner_at(rank.max(Rank::START.next())).is_none() && !self.is_borrowed(rank)
    }

    /// The times it was lent, of which nobody here saw what it ran: those that began before `until` and ended after `from`.
    pub fn lent_between(&self, from: Rank, until: Rank) -> impl Iterator<Item = &Loan> {
        let ends = move |loan: &&Loan| loan.back.is_none_or(|(back, _)| back > from);
        self.loans.iter().filter(move |loan| loan.lent && loan.out.0 < until).filter(ends)
    }
}

impl Fold<'_> {
    fn open(&self, part: PartId) -> Option<Loan> {
        self.parts.get(part).loans.last().copied().filter(|loan| loan.back.is_none())
    }

    /// Whether it is borrowed as the fold stands.
    pub(super) fn borrowed(&self, part: PartId) -> bool {
        self.open(part).is_some_and(|loan| !loan.lent)
    }

    /// The client whose own it is from the beginning.
    fn clients_own(&self, part: PartId) -> Option<ClientId> {
        let owner = self.book.parts.get(part)?.owner?;
        (self.parts.get(part).owner() == Some(owner) && self.parts.get(part).sold.is_empty()).then_some(owner)
    }

    /// Whether it is a client's own that the shop keeps for him.
    pub(super) fn kept_for_client(&self, part: PartId) -> bool {
        self.clients_own(part).is_some()
    }

    /// A part, or one inside it, that is a client's own goes on his cars alone.
    pub(super) fn anothers_own(&self, part: PartId) -> Option<PartId> {
        if !self.has_owned {
            return None;
        }
        let mut all = vec![part];
        while let Some(part) = all.pop() {
            if self.clients_own(part).is_some_and(|owner| self.by != Some(owner)) {
                return Some(part);
            }
            all.extend(self.parts.get(part).inside.iter().copied());
        }
        None
    }

    /// The part, or one inside it, that is neither the shop's nor of that client.
    pub(super) fn not_the_shops(&self, part: PartId, by: Option<ClientId>) -> Option<PartId> {
        let mut all = vec![part];
        while let Some(part) = all.pop() {
            if self.borrowed(part) || self.clients_own(part).is_some_and(|owner| by != Some(owner)) {
                return Some(part);
            }
            all.extend(self.parts.get(part).inside.iter().copied());
        }
        None
    }

    /// Says that something inside what is lent, or that itself, is not here.
    pub(super) fn lent_away(&mut self, part: PartId, entry: EntryId) {
        if let Some(loan) = self.open(part).filter(|loan| loan.lent && !self.doubted.contains_key(&part)) {
            self.tell(entry, Problem::PartAway { entry, part, since: loan.out.1, lent: true });
        }
    }

    /// What comes out of an assembly that is lent is here again; what is borrowed stays its lender's wherever it is.
    pub(super) fn came_out(&mut self, part: PartId, entry: EntryId, rank: Rank) {
        if self.open(part).is_some_and(|loan| loan.lent) {
            self.end_loan(part, entry, rank);
        }
    }

    fn begin_loan(&mut self, part: PartId, lent: bool, entry: EntryId, rank: Rank) {
        let mut all = vec![part];
        while let Some(part) = all.pop() {
            let history = &mut self.parts.all[part];
            history.loans.push(Loan { lent, out: (rank, entry), back: None });
            all.extend(history.inside.iter().copied());
        }
    }

    /// Ends the loan a part is on, and that of what went with it.
    pub(super) fn end_loan(&mut self, part: PartId, entry: EntryId, rank: Rank) {
        let Some(out) = self.open(part).map(|loan| loan.out) else { return };
        let mut all = vec![part];
        while let Some(part) = all.pop() {
            let history = &mut self.parts.all[part];
            if let Some(last) = history.loans.last_mut().filter(|loan| loan.back.is_none() && loan.out == out)
            {
                last.back = Some((rank, entry));
            }
            all.extend(history.inside.iter().copied());
        }
    }

    /// Says that a part is not the shop's to lend or to sell: no sum of the line is anybody's.
    pub(super) fn not_ours(&mut self, part: PartId, entry: EntryId) {
        let since = self.open(part).map(|loan| loan.out.1);
        self.parts.not_ours.insert(entry);
        self.tell(entry, Problem::NotOurs { entry, part, since });
    }

    /// `lend cp-3 to ...`.
    pub(super) fn lend(&mut self, part: PartId, entry: EntryId, rank: Rank) {
        if let Some(own) = self.not_the_shops(part, None) {
            self.not_ours(own, entry);
        } else if self.parts.get(part).owner().is_some() {
            self.not_ours(part, entry);
        } else if self.state(part) == Where::Lent {
            if self.usable(part, entry) {
                self.begin_loan(part, true, entry, rank);
            }
        } else {
            self.put(part, Where::Lent, entry, rank);
            if self.state(part) == Where::Lent {
                self.begin_loan(part, true, entry, rank);
            }
        }
    }

    /// `borrow cp-9 from ...`: it comes to the shelf.
    pub(super) fn borrow(&mut self, part: PartId, entry: EntryId, rank: Rank) {
        let last = self.parts.get(part).stays.last().copied();
        match last.map(|stay| (stay.at, stay.entry)) {
            None | Some((Where::New | Where::Returned, _)) => {
                self.leave(part, entry, rank, Where::Shelf);
                self.begin_loan(part, false, entry, rank);
            }
            Some((_, came)) => {
                self.tell(entry, Problem::HereAlready { entry, part, came });
                self.doubt(part, rank);
            }
        }
    }

    /// `return cp-3`: what was lent comes back, what is others' goes back to them.
    pub(super) fn give_back(&mut self, part: PartId, failed: bool, entry: EntryId, rank: Rank) {
        if self.state(part) == Where::Lent {
            let to = self.off(part, failed, entry);
            self.leave(part, entry, rank, to);
            self.end_loan(part, entry, rank);
        } else if self.borrowed(part) || self.kept_for_client(part) && self.state(part) != Where::Returned {
            // What it ran here is what its sessions say.
            if facts(self.book, entry).is_some_and(|loan| loan.away != UseAway::Unsaid) {
                self.tell(entry, Problem::RanHere { entry, part });
            }
            if failed {
                self.off(part, failed, entry);
            }
            self.put(part, Where::Returned, entry, rank);
            self.end_loan(part, entry, rank);
        } else {
            self.tell(entry, Problem::NotAway { entry, part });
            self.doubt(part, rank);
        }
    }
}
