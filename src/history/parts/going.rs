//! Parts that go on cars, come off them and are laid aside: whether they were there, and whether they may go.
//!
//! Must not know assemblies.

use super::{Fold, Where};
use crate::book::entry::{EntryId, PartFacts, Verdict};
use crate::book::model::{CarId, PartId};
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::problem::Problem;

impl Fold<'_> {
    pub(super) fn fit(
        &mut self,
        part: PartId,
        car: Option<CarId>,
        place: Option<Place>,
        entry: EntryId,
        rank: Rank,
    ) {
        let (Some(car), Some(kind)) = (car, self.kind(part)) else {
            // Of a part whose kind nobody can read nobody knows whether it goes there.
            if car.is_some() && self.kind(part).is_none() {
                self.parts.all[part].mistaken.push(entry);
                self.doubt(part, rank);
                self.claim(part, car, (rank, Rank::END));
            }
            return;
        };
        match self.state(part) {
            Where::Car(..) | Where::Inside(_) if self.doubted.contains_key(&part) => {
                self.leave(part, entry, rank, self.rest(part));
            }
            there @ (Where::Car(..) | Where::Inside(_)) => {
                let since = self.since(part).unwrap_or(entry);
                self.tell(entry, Problem::PartInTwoPlaces { entry, part, there, since });
                self.doubt(part, rank);
                self.claim(part, Some(car), (rank, Rank::END));
                self.doubt_place(car, kind, place);
                return;
            }
            _ => {
                if !self.usable(part, entry) {
                    self.claim(part, Some(car), (rank, Rank::END));
                    self.doubt_place(car, kind, place);
                    return;
                }
            }
        }
        if let Some(own) = self.anothers_own(part) {
            self.not_ours(own, entry);
        }
        let place = match self.place_for(kind, car, place) {
            Ok(place) => place,
            Err(fits) => {
                self.tell(
                    entry,
                    if fits {
                        Problem::PlaceNeeded { entry, part }
                    } else {
                        Problem::DoesNotFit { entry, part, car, place }
                    },
                );
                self.doubt(part, rank);
                self.claim(part, Some(car), (rank, Rank::END));
                return;
            }
        };
        if self.rides_along(kind, car, place) {
            self.carry(part, entry, rank, (car, place));
            return;
        }
        if let Some(holds) = self.holds.get(&(car, kind, place)).copied() {
            let explained = self.doubted.contains_key(&holds);
            if !explained {
                let since = self.since(holds).unwrap_or(entry);
                self.tell(entry, Problem::PlaceOccupied { entry, holds, since });
            }
            // The new part is what the crew says is there now; the other's place is not known any more, nor whether this is the place.
            self.leave(holds, entry, rank, self.rest(holds));
            if !explained {
                // Or the new one went elsewhere, and this one runs on.
                self.claim(holds, Some(car), (rank, Rank::END));
            }
            self.doubt(holds, rank);
            self.leave(part, entry, rank, Where::Car(car, place));
            self.doubt(part, rank);
            return;
        }
        self.leave(part, entry, rank, Where::Car(car, place));
    }

    /// Takes a part off; `false` if it was not there.
    pub(super) fn remove(
        &mut self,
        part: PartId,
        car: Option<CarId>,
        place: Option<Place>,
        failed: bool,
        entry: EntryId,
        rank: Rank,
    ) -> bool {
        let there = |(on, at)| car.is_none_or(|car| car == on) && place.is_none_or(|place| place == at);
        if self.carried(part).is_some_and(there) {
            let to = self.off(part, failed, entry);
            self.leave(part, entry, rank, to);
            return true;
        }
        match self.state(part) {
            Where::Car(on, at)
                if car.is_none_or(|car| car == on) && place.is_none_or(|place| place == at) => {}
            Where::Scrapped | Where::Sold | Where::Lent | Where::Returned
                if !self.is_taken_by_its_owner(part) =>
            {
                if !self.doubted.contains_key(&part) {
                    self.usable(part, entry);
                }
                return false;
            }
            there => {
                let believed = self.not_there(part, car, place, entry, rank);
                if believed && matches!(there, Where::Car(..) | Where::Inside(_)) {
                    self.leave(part, entry, rank, if failed { Where::Failed } else { self.rest(part) });
                }
                return false;
            }
        }
        let to = self.off(part, failed, entry);
        self.leave(part, entry, rank, to);
        true
    }

    /// Where a part goes that comes off a car or out of an assembly: a line that takes it off as failed says so of it.
    pub(super) fn off(&mut self, part: PartId, failed: bool, entry: EntryId) -> Where {
        let history = &mut self.parts.all[part];
        if failed && history.broken.is_none() {
            history.broken = Some(entry);
            history.failures.push(entry);
        }
        if history.broken.is_some() { Where::Failed } else { self.rest(part) }
    }

    /// Puts a part that must be off the car already.
    pub(super) fn put(&mut self, part: PartId, to: Where, entry: EntryId, rank: Rank) {
        match self.state(part) {
            Where::Car(..) | Where::Inside(_) => {
                let since = self.since(part).unwrap_or(entry);
                self.tell(entry, Problem::StillFitted { entry, part, since });
                self.leave(part, entry, rank, to);
            }
            // It lies where its owner's parts lie.
            Where::Sold if to == Where::Sold && self.is_taken_by_its_owner(part) => {}
            Where::Lent if self.doubted.contains_key(&part) => {
                self.end_loan(part, entry, rank);
                self.leave(part, entry, rank, to);
            }
            Where::Scrapped | Where::Sold | Where::Lent | Where::Returned => {
                self.usable(part, entry);
            }
            Where::Quarantine if to == self.rest(part) => {
                let since = self.since(part).unwrap_or(entry);
                self.tell(entry, Problem::QuarantinedPartFitted { entry, part, since });
            }
            // A failed part may lie on a shelf; it stays failed.
            Where::Failed if to == self.rest(part) => {}
            _ => self.leave(part, entry, rank, to),
        }
    }

    /// Quarantines or scraps a part; it comes off by that line if it was on.
    pub(super) fn put_off(&mut self, part: PartId, to: Where, entry: EntryId, rank: Rank) {
        // What was lent may be lost or broken for good where it is.
        let lost = to == Where::Scrapped && self.state(part) == Where::Lent;
        if to != Where::Scrapped && matches!(self.state(part), Where::Inside(_)) {
            self.lent_away(part, entry);
        }
        let gone = self.state(part).is_gone() || self.state(part) == Where::Lent;
        if lost || !gone || self.usable(part, entry) {
            self.leave(part, entry, rank, to);
            if lost {
                self.end_loan(part, entry, rank);
            }
        }
    }

    /// Whether the part may go to work: in quarantine, failed, gone.
    pub(super) fn usable(&mut self, part: PartId, entry: EntryId) -> bool {
        let since = self.since(part).unwrap_or(entry);
        match self.state(part) {
            Where::Sold | Where::Returned if self.is_taken_by_its_owner(part) => {}
            // After a mistake about it the line is believed.
            Where::Lent if self.doubted.contains_key(&part) => {
                self.end_loan(part, entry, self.order.rank[entry]);
            }
            there @ (Where::Lent | Where::Returned) => {
                self.tell(entry, Problem::PartAway { entry, part, since, lent: there == Where::Lent });
                return false;
            }
            Where::Scrapped | Where::Sold => {
                let sold = self.state(part) == Where::Sold;
                self.tell(entry, Problem::RetiredPartFitted { entry, part, since, sold });
                return false;
            }
            Where::Quarantine => {
                self.tell(entry, Problem::QuarantinedPartFitted { entry, part, since });
                return true;
            }
            _ => {}
        }
        if let Some(since) = self.parts.all[part].broken {
            self.tell(entry, Problem::FailedPartBack { entry, part, since });
            self.parts.all[part].broken = None;
        }
        true
    }

    /// One part comes off and another takes its place.
    pub(super) fn swap(
        &mut self,
        part: PartId,
        facts: &PartFacts,
        car: Option<CarId>,
        index: EntryId,
        rank: Rank,
    ) {
        let failed = facts.verdict == Some(Verdict::Failed);
        let Some(on) = facts.other else { return };
        self.parts.all[on].lines.push(index);
        let place = match self.state(part) {
            Where::Car(_, place) => facts.place.or(Some(place)),
            _ => facts.place,
        };
        if self.remove(part, car, facts.place, failed, index, rank) {
            self.fit(on, car, place, index, rank);
        } else {
            // The line names the wrong part to come off, or the wrong place; whoever is there makes way.
            self.make_way(on, car, place, index, rank);
            self.fit(on, car, place, index, rank);
            self.doubt(on, rank);
        }
    }

    /// A part goes where the crew says, wherever it was.
    pub(super) fn go_on(
        &mut self,
        part: PartId,
        facts: &PartFacts,
        (car, head_car): (Option<CarId>, Option<CarId>),
        index: EntryId,
        rank: Rank,
    ) {
        // What was never paid for here has no sum to take from one car to another.
        if (facts.money.is_some() || facts.money_lost)
            && let Some(own) = self.not_the_shops(part, None)
        {
            self.not_ours(own, index);
        }
        match self.state(part) {
            Where::Scrapped | Where::Sold | Where::Lent | Where::Returned => {
                if !self.usable(part, index) {
                    return;
                }
            }
            // What fitting it says of these is enough.
            Where::Quarantine | Where::Failed => {}
            Where::Car(on, _) if head_car.is_none_or(|car| car == on) => {
                self.leave(part, index, rank, self.rest(part));
            }
            // It goes where the crew says it is now, wherever it came from.
            there => {
                self.not_there(part, head_car, None, index, rank);
                if matches!(there, Where::Car(..) | Where::Inside(_)) {
                    self.leave(part, index, rank, self.rest(part));
                }
            }
        }
        self.fit(part, car, facts.place, index, rank);
    }

    /// A part failed; one that is on nothing lies there as failed.
    pub(super) fn fail(&mut self, part: PartId, index: EntryId, rank: Rank) {
        let history = &mut self.parts.all[part];
        history.failures.push(index);
        history.broken = Some(index);
        let there = history.now();
        if !(there.is_gone() || matches!(there, Where::Car(..) | Where::Inside(_) | Where::Lent)) {
            // It says that the part broke, not where it was: what is in doubt stays so.
            let doubt = self.doubted.get(&part).copied();
            self.leave(part, index, rank, Where::Failed);
            self.doubted.extend(doubt.map(|head| (part, head)));
        }
    }
}
