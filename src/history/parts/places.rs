//! Where a kind goes on a car, who must make way there, and what is in doubt after a mistake.
//!
//! Must not know the lines that say so.

use super::{Fold, Where};
use crate::book::entry::{Entry, EntryId, PartFacts, Verb};
use crate::book::model::{CarId, Fit, KindId, PartId};
use crate::book::place::Place;
use crate::history::claim::Claim;
use crate::history::order::Rank;
use crate::history::parts::PartHistory;
use crate::history::problem::Problem;

/// Whether two places are one, or have a corner in common.
fn meet(one: Place, other: Place) -> bool {
    one == other || one.corners().iter().any(|corner| other.corners().contains(corner))
}

impl Fold<'_> {
    /// A mistake puts the part's place in doubt; the next line that places it settles that.
    pub(super) fn doubt(&mut self, part: PartId, rank: Rank) {
        self.parts.all[part].doubts.push(rank);
        self.doubted.insert(part, self.at.1);
    }

    /// A line with a mistake that would have put a part somewhere, or taken it off: where that part is, and what is in its way or in the
    /// place that the line names, is in doubt from here on.
    pub(super) fn mistaken(
        &mut self,
        entry: &Entry,
        index: EntryId,
        (car, facts): (Option<CarId>, &PartFacts),
        rank: Rank,
    ) {
        let place = facts.place;
        let named = || entry.part().into_iter().chain(facts.other).chain(facts.more.iter().copied());
        for part in named() {
            self.parts.all[part].mistaken.push(index);
        }
        if entry.verb.says_how() {
            self.unread(entry, index, (car, named().collect()), rank);
        }
        let takes_off = matches!(entry.verb, Verb::Remove | Verb::Swap | Verb::Move | Verb::Strip);
        let puts_on = entry.verb.puts_on();
        if entry.verb.moves_part() && entry.verb != Verb::Rebuild {
            for part in named() {
                self.doubt(part, rank);
                // Where to is what cannot be read.
                if puts_on {
                    self.claim(part, None, (rank, Rank::END));
                }
            }
        }
        if !(takes_off || puts_on) {
            return;
        }
        if named().next().is_none() && puts_on {
            self.unnamed |= !takes_off;
            self.may_have_gone_on((car, place), rank);
        }
        if entry.part().is_some() && matches!(entry.verb, Verb::Remove | Verb::Strip) {
            // It takes off what it names and puts nothing in the way of anything.
            return;
        }
        let kinds: Vec<KindId> = named().filter_map(|part| self.kind(part)).collect();
        let in_way = |(on, of, at): &(CarId, KindId, Place)| {
            let same_place = place.is_none_or(|place| meet(*at, place));
            // Of a part that nobody can name only the place tells what made way; without one, anything may have.
            let same_kind = kinds.is_empty() || kinds.contains(of);
            Some(*on) == car && same_place && same_kind
        };
        let mut held: Vec<PartId> =
            self.holds.iter().filter(|(spot, _)| in_way(spot)).map(|(_, part)| *part).collect();
        held.sort_unstable();
        held.dedup();
        for part in held {
            self.doubt(part, rank);
        }
    }

    /// A line with a mistake that would have said how its parts are: of each that it names nobody knows it. That one failed is known; how it
    /// failed is what cannot be read. Where it names none that there is, it is any of those on the car, or of those on the shelf.
    fn unread(
        &mut self,
        entry: &Entry,
        index: EntryId,
        (car, named): (Option<CarId>, Vec<PartId>),
        rank: Rank,
    ) {
        if let (Verb::Failed, [part]) = (entry.verb, named.as_slice()) {
            self.fail(*part, index, rank);
            self.doubt(*part, rank);
            return;
        }
        let worse = matches!(entry.verb, Verb::Failed | Verb::Inspect | Verb::Quarantine | Verb::Scrap);
        let may_be = |told: &PartHistory| {
            let last = told.stays.last();
            match car {
                Some(car) => last.is_some_and(|stay| stay.car == Some(car)),
                None => last.is_none_or(|stay| matches!(stay.at, Where::New | Where::Shelf)),
            }
        };
        let parts = if named.is_empty() && worse {
            let all = self.parts.all.iter_enumerated();
            all.filter(|(_, told)| may_be(told)).map(|(part, _)| part).collect()
        } else {
            named
        };
        for part in parts {
            self.parts.all[part].unread.push((rank, index));
        }
    }

    /// A line puts in a place of a car (in any, where it tells none) a part that nobody can name: it may be any that lies about and goes there,
    /// until a line places that. Lines with nothing placed between them say no more than the first of them.
    fn may_have_gone_on(&mut self, (car, place): (Option<CarId>, Option<Place>), rank: Rank) {
        if !self.unnamed_since.insert((car, place)) {
            return;
        }
        let goes = |part: PartId| {
            let kind = self.kind(part).and_then(|kind| self.book.kinds.get(kind));
            let there = |fit: &Fit| {
                car.is_none_or(|car| fit.on(car))
                    && place.is_none_or(|place| fit.places.iter().any(|of_kind| meet(*of_kind, place)))
            };
            kind.is_none_or(|kind| kind.fits.is_empty() || kind.fits.iter().any(there))
        };
        let lies = |told: &PartHistory| matches!(told.now(), Where::New | Where::Shelf);
        let open = |told: &PartHistory| {
            told.claims.iter().any(|claim| claim.car.is_none() && claim.until == Rank::END)
        };
        let parts = self.parts.all.iter_enumerated().filter(|(_, told)| lies(told) && !open(told));
        let parts: Vec<PartId> = parts.map(|(part, _)| part).filter(|part| goes(*part)).collect();
        for part in parts {
            self.claim(part, None, (rank, Rank::END));
        }
    }

    /// A part may be on a car where the book does not have it.
    pub(super) fn claim(&mut self, part: PartId, car: Option<CarId>, (from, until): (Rank, Rank)) {
        self.parts.all[part].claims.push(Claim { car, from, until });
    }

    /// A line that looks at a part on the car of its block, or in a place, where the book has the part on another car or in another place: one
    /// of the two is wrong, and what the line says is believed of neither.
    pub(super) fn elsewhere(
        &mut self,
        entry: &Entry,
        index: EntryId,
        (car, facts): (Option<CarId>, &PartFacts),
        rank: Rank,
    ) -> bool {
        let looks = matches!(
            entry.verb,
            Verb::Failed | Verb::Inspect | Verb::Service | Verb::Quarantine | Verb::Scrap
        );
        let Some(part) = entry.part().filter(|part| looks && !self.doubted.contains_key(part)) else {
            return false;
        };
        let on = self.parts.all[part].stays.last().and_then(|stay| stay.car);
        let car = facts.car.or(car);
        // What was found later of a session that it was in, wherever it has gone since.
        let session = self.sessions.during(self.book, index).and_then(|run| self.sessions.of_run(run));
        let was_in = session.is_some_and(|session| {
            let mut stays = self.parts.all[part].stays.iter();
            stays.any(|stay| {
                stay.car == Some(session.car) && stay.from < session.after && stay.until > session.rank
            })
        });
        if was_in && facts.place.is_none() {
            return false;
        }
        let other_car = on.zip(car).is_some_and(|(on, car)| on != car);
        let there = self.state(part);
        let other_place = match there {
            Where::Car(_, at) => facts.place.is_some_and(|place| !place.touches(at)),
            _ => false,
        };
        if !(other_car || other_place) {
            return false;
        }
        let since = self.since(part);
        self.tell(index, Problem::PullNotThere { entry: index, part, there, since });
        self.parts.all[part].unread.push((rank, index));
        self.doubt(part, rank);
        if other_car {
            self.was_on(part, car, rank);
        }
        true
    }

    /// A line says that the part was on a car until then, where the book has it elsewhere.
    fn was_on(&mut self, part: PartId, car: Option<CarId>, rank: Rank) {
        let last = self.parts.all[part].stays.last().copied();
        if car.is_none() || last.and_then(|stay| stay.car) != car {
            self.claim(part, car, (last.map_or(Rank::START, |stay| stay.from), rank));
        }
    }

    /// A line says where the part is: that settles it, but in the block of the mistake, whose lines may stand in each other's place.
    pub(super) fn settle(&mut self, part: PartId) {
        if self.doubted.get(&part).is_some_and(|head| *head != self.at.1) {
            self.doubted.remove(&part);
        }
        let rank = self.order.rank.get(self.at.0).copied();
        for claim in self.parts.all[part].claims.iter_mut().filter(|claim| claim.until == Rank::END) {
            claim.until = rank.unwrap_or(claim.until).max(claim.from);
        }
    }

    /// The same of a place.
    pub(super) fn settle_place(&mut self, place: (CarId, KindId, Place)) {
        if self.doubted_places.get(&place).is_some_and(|head| *head != self.at.1) {
            self.doubted_places.remove(&place);
        }
    }

    /// What is wrong with a line, once a line: what follows from it on the same line is the same mistake.
    pub(super) fn tell(&mut self, entry: EntryId, problem: Problem) {
        if !(self.told && entry == self.at.0) {
            self.problems.push(problem);
        }
        self.told |= entry == self.at.0;
    }

    /// A mistake leaves open what is in a place.
    pub(super) fn doubt_place(&mut self, car: CarId, kind: KindId, place: Option<Place>) {
        if let Ok(place) = self.place_for(kind, car, place) {
            self.doubted_places.insert((car, kind, place), self.at.1);
        }
    }

    /// A part comes off where it is not. Said once: after a mistake about it, or about that place, the line is believed
    /// (`true`), since it follows from that one.
    pub(super) fn not_there(
        &mut self,
        part: PartId,
        car: Option<CarId>,
        place: Option<Place>,
        entry: EntryId,
        rank: Rank,
    ) -> bool {
        let spot = car.zip(self.kind(part)).zip(place).map(|((car, kind), place)| (car, kind, place));
        if car.is_some() {
            self.was_on(part, car, rank);
        }
        let holds = spot.and_then(|spot| self.holds.get(&spot));
        // A part that no line ever put anywhere may be the one that a line with a mistake put there.
        let never = || self.parts.all[part].stays.iter().all(|stay| stay.car.is_none());
        if self.doubted.contains_key(&part)
            || self.unnamed && never()
            || holds.is_some_and(|holds| self.doubted.contains_key(holds))
            || spot.is_some_and(|spot| self.doubted_places.contains_key(&spot))
        {
            return true;
        }
        let (there, since) = (self.state(part), self.since(part));
        self.tell(entry, Problem::PullNotThere { entry, part, there, since });
        self.doubt(part, rank);
        // One of that kind came off this car, whichever it was.
        if let (Some(car), Some(kind)) = (car, self.kind(part)) {
            let fits = self.book.kinds[kind].fits.iter().flat_map(|fit| &fit.places);
            let on: Vec<PartId> = fits
                .flat_map(|place| std::iter::once(place).chain(place.corners()))
                .filter_map(|place| self.holds.get(&(car, kind, *place)).copied())
                .collect();
            for part in on {
                self.doubt(part, rank);
            }
        }
        false
    }

    /// The part in the place that another is to go to.
    fn in_way(&self, part: PartId, car: Option<CarId>, place: Option<Place>) -> Option<PartId> {
        let (car, kind) = car.zip(self.kind(part))?;
        let place = self.place_for(kind, car, place).ok()?;
        self.holds.get(&(car, kind, place)).copied()
    }

    /// Takes whatever part is where `part` is about to go to the shelf.
    pub(super) fn make_way(
        &mut self,
        part: PartId,
        car: Option<CarId>,
        place: Option<Place>,
        entry: EntryId,
        rank: Rank,
    ) {
        if let Some(holds) = self.in_way(part, car, place).filter(|holds| *holds != part) {
            self.leave(holds, entry, rank, self.rest(holds));
            self.doubt(holds, rank);
        }
    }

    /// A line of an outfit: what is in the place makes way, a part that is elsewhere on the car comes off there, and one that is
    /// there already stays.
    pub(super) fn fit_instead(
        &mut self,
        part: PartId,
        car: Option<CarId>,
        place: Option<Place>,
        entry: EntryId,
        rank: Rank,
    ) {
        let spot = car.zip(self.kind(part)).filter(|(on, kind)| self.place_for(*kind, *on, place).is_ok());
        if let Some((on, _)) = spot {
            let holds = self.in_way(part, car, place);
            if holds == Some(part) && !self.doubted.contains_key(&part) {
                return;
            }
            if let Some(holds) = holds {
                let to = self.off(holds, false, entry);
                self.leave(holds, entry, rank, to);
            }
            if matches!(self.state(part), Where::Car(there, _) if there == on) {
                let to = self.off(part, false, entry);
                self.leave(part, entry, rank, to);
            }
        }
        self.fit(part, car, place, entry, rank);
    }

    /// Whether a kind only rides along in a place of a car.
    pub(super) fn rides_along(&self, kind: KindId, car: CarId, place: Place) -> bool {
        let own = self.book.kinds[kind].fits.iter().filter(|fit| fit.on(car) && fit.places.contains(&place));
        let mut own = own.peekable();
        own.peek().is_some() && own.all(|fit| fit.carried)
    }

    /// Where a kind goes on a car: the place said, if it fits there, or its only place. `Err(true)`: several fit.
    pub(super) fn place_for(&self, kind: KindId, car: CarId, place: Option<Place>) -> Result<Place, bool> {
        let fits = &self.book.kinds[kind].fits;
        let here = fits.iter().filter(|fit| fit.on(car) && (place.is_some() || !fit.carried));
        let mut places: Vec<Place> = here.flat_map(|fit| fit.places.iter().copied()).collect();
        places.dedup();
        match place {
            Some(place) => {
                let spread = places
                    .iter()
                    .any(|fit| *fit == place || fit.corners().contains(&place) && *fit != Place::ALL);
                if spread { Ok(place) } else { Err(false) }
            }
            None => match places.as_slice() {
                [] => Err(false),
                [only] => Ok(*only),
                _ => Err(true),
            },
        }
    }
}
