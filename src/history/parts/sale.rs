//! What a sale does to parts: whose they are from then on, and on whose cars they may still go.
//!
//! What is sold is settled at the moment of the sale; no later line about the car changes it. A part that was sold to a client
//! goes on cars of his alone, while the shop looks after them, and lies with him when it comes off: never on the shop's shelf.
//! Must not know the other lines about parts.

use super::{Fold, Sale, Where};
use crate::book::entry::{EntryId, PartFacts, Verb};
use crate::book::model::{CarId, ClientId, PartId};
use crate::history::order::Rank;
use crate::history::problem::{Problem, Sold};

impl Fold<'_> {
    /// Whose sold parts a line may take: those of the client whose car it is about, and without a car those of a client that the
    /// shop looks after a car for.
    pub(super) fn takes_for(
        &self,
        part: PartId,
        car: Option<CarId>,
        other: Option<PartId>,
        rank: Rank,
    ) -> Option<ClientId> {
        if let Some(car) = car {
            return self.parts.owner(self.book, car, rank);
        }
        let owner = |part: PartId| self.parts.get(part).owner();
        other.map_or_else(|| owner(part), owner).filter(|client| self.cared.contains(client))
    }

    /// Whether a part that was sold belongs to the client the line at hand is about.
    pub(super) fn is_taken_by_its_owner(&self, part: PartId) -> bool {
        let owner = self.parts.get(part).owner();
        owner.is_some() && owner == self.by
    }

    /// Where a part lies that is on no car: on the shelf, or with the client it was sold to.
    pub(super) fn rest(&self, part: PartId) -> Where {
        if self.parts.get(part).owner().is_some() && !self.kept_for_client(part) {
            Where::Sold
        } else {
            Where::Shelf
        }
    }

    /// A part changes hands, and what is in it.
    fn hand_over(&mut self, part: PartId, buyer: Option<ClientId>, entry: EntryId, rank: Rank) {
        let mut all = vec![part];
        while let Some(part) = all.pop() {
            let history = &mut self.parts.all[part];
            history.owners.push((rank, buyer));
            history.sold.push((rank, entry));
            all.extend(history.inside.iter().copied());
        }
    }

    /// A part comes into the shop by a line that buys it: new, back from a client, or kept of what was borrowed.
    pub(super) fn buy(&mut self, part: PartId, index: EntryId, rank: Rank) {
        if self.borrowed(part) {
            // Kept: it is where it is, and the shop's from now on.
            self.end_loan(part, index, rank);
            return;
        }
        let history = &mut self.parts.all[part];
        // Bought back of a client, wherever it is: on his car, broken, on the bench.
        let back = history.owner().is_some();
        if back {
            history.owners.push((rank, None));
        }
        if history.now() == Where::Returned {
            // Paid for after it had gone back, as what broke is.
            let to = if history.broken.is_some() { Where::Failed } else { Where::Shelf };
            self.leave(part, index, rank, to);
        } else if history.now() == Where::Sold {
            // Sold first of all, it cannot have been bought later; after other lines it has come back.
            if let Some(sale) = history.stays.first().filter(|stay| stay.at == Where::Sold) {
                let (entry, what) = (sale.entry, Sold::Part(part));
                self.tell(index, Problem::SoldBeforeBought { entry, what, bought: index });
            }
            self.leave(part, index, rank, Where::Shelf);
        } else if back {
        } else if let Some(first) = history.stays.first().filter(|stay| stay.at != Where::New) {
            let used = first.entry;
            let book = self.book;
            let came = |line: &EntryId| matches!(book.entries[*line].verb, Verb::Buy) && *line != index;
            let problem = match history.lines.iter().copied().find(came) {
                Some(came) => Problem::HereAlready { entry: index, part, came },
                None => Problem::UsedBeforeBought { entry: index, part, used },
            };
            self.tell(index, problem);
            self.doubt(part, rank);
        } else {
            self.leave(part, index, rank, Where::Shelf);
        }
    }

    /// A part is sold alone, or as a spare that goes with a car.
    pub(super) fn sell(&mut self, part: PartId, buyer: Option<ClientId>, entry: EntryId, rank: Rank) {
        if let Some(own) = self.not_the_shops(part, self.by) {
            self.not_ours(own, entry);
            return;
        }
        let before = self.state(part);
        // Its owner sells it on; broken or set aside it may be sold as it is.
        let own = before == Where::Sold && self.is_taken_by_its_owner(part);
        if own || matches!(before, Where::Failed | Where::Quarantine) {
            self.leave(part, entry, rank, Where::Sold);
        } else {
            self.put(part, Where::Sold, entry, rank);
        }
        if own || !matches!(before, Where::Scrapped | Where::Sold) {
            self.hand_over(part, buyer, entry, rank);
        }
    }

    /// A car is sold: what is on it goes along, out of the book with it. Where its blocks go on `for` the buyer it stays in the
    /// book, its parts stay on it, and their hours go on; they are his all the same.
    pub(super) fn sell_car(&mut self, car: CarId, facts: &PartFacts, entry: EntryId, rank: Rank) {
        self.by = self.parts.owner(self.book, car, rank);
        self.parts.add_sale(Sale { car, rank, entry, to: facts.buyer });
        let stays = facts.buyer.is_some() && self.goes_on(car, facts.buyer, rank);
        if !stays {
            self.parts.sold.entry(car).or_insert((rank, entry));
        }
        let aboard = self.aboard.as_ref().and_then(|aboard| aboard.get(&car));
        let on: Vec<PartId> = aboard.into_iter().flatten().copied().collect();
        for part in &facts.more {
            if on.binary_search(part).is_err() {
                self.parts.all[*part].lines.push(entry);
                self.sell(*part, facts.buyer, entry, rank);
            }
        }
        for part in on {
            if self.borrowed(part) {
                self.not_ours(part, entry);
                self.leave(part, entry, rank, Where::Shelf);
            } else if self.state(part) != Where::Sold {
                self.parts.all[part].lines.push(entry);
                self.hand_over(part, facts.buyer, entry, rank);
                if !stays {
                    self.leave(part, entry, rank, Where::Sold);
                }
            }
        }
    }

    /// Whether a block of the car after a rank is for its buyer.
    fn goes_on(&self, car: CarId, buyer: Option<ClientId>, rank: Rank) -> bool {
        self.book
            .heads_of(car)
            .filter(|head| head.owner == buyer)
            .any(|head| (head.lines()).any(|entry| self.order.rank.get(entry).is_some_and(|at| *at > rank)))
    }
}
