//! What is on a car at a moment: every slot with both registers, every part in its place.
//!
//! Must not know rendering.

use super::History;
use super::benched;
use super::disturb::Disturbance;
use super::facts::{Facts, Standing};
use super::likeness::{self, Reading};
use super::order::Rank;
use super::slots::{Carrying, Owner, Register, SlotEvent, Track};
use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::{KindId, PartId};
use crate::book::place::Place;
use crate::sorted;
use crate::units::DimensionId;
use crate::vocabulary::{Places, QuantityId};

/// A slot at a moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// What was asked last.
    pub asked: Option<SlotEvent>,
    /// What was read last.
    pub read: Option<SlotEvent>,
    /// An error or a dispute made it unknown, and nothing was said since.
    pub unknown: Option<SlotEvent>,
    /// The change that made the reading stale.
    pub stale: Option<Disturbance>,
    /// What was read was read on the bench after the moment: the part is the same until its next rebuild.
    pub later: bool,
}

impl Held {
    /// The later of the two registers.
    #[must_use]
    pub fn is(&self, history: &History) -> Option<SlotEvent> {
        if self.unknown.is_some() {
            return None;
        }
        let rank = |event: &SlotEvent| event.rank(&history.order);
        match (self.asked, self.read) {
            (Some(asked), Some(read)) => Some(if rank(&asked) >= rank(&read) { asked } else { read }),
            (asked, read) => asked.or(read),
        }
    }
}

/// Whether a quantity says something of one session alone, so that what another session read of it is not its.
#[must_use]
pub fn is_of_one_session(quantity: &str) -> bool {
    matches!(quantity, "fuel-used" | "weight-after-session")
}

/// Where else the same thing may be stated: the toe of an axle at its wheels, that of a wheel at its axle.
#[must_use]
pub fn other_forms(book: &Book, quantity: QuantityId, place: Place) -> Vec<Place> {
    let what = book.vocabulary.get(quantity);
    if what.dimension != DimensionId::TOE || !what.places.has(Places::AXLE) {
        return Vec::new();
    }
    match place.axle() {
        Some(axle) if place.is_corner() => vec![axle],
        Some(axle) if place.is_axle() => axle.corners().to_vec(),
        _ => Vec::new(),
    }
}

/// One slot of a car at a moment.
#[derive(Debug, Clone, Copy)]
pub struct SlotState<'a> {
    /// The quantity.
    pub quantity: QuantityId,
    /// The place on the car (also for a part's own slot).
    pub place: Place,
    /// The part it travels with, or that gives it.
    pub part: Option<PartId>,
    /// Its track.
    pub track: &'a Track,
    /// What it holds.
    pub held: Held,
}

/// One place of a car at a moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PlaceState {
    /// The kind.
    pub kind: KindId,
    /// The place.
    pub place: Place,
    /// Who is there.
    pub part: Option<PartId>,
}

impl<'a> Standing<'a> {
    /// A track, at a place of this car.
    #[must_use]
    pub fn held(&self, place: Place, track: &Track) -> Held {
        self.held_by(place, track, true)
    }

    /// A track; of the moment during a session with or without what that session read itself.
    fn held_by(&self, place: Place, track: &Track, with_session: bool) -> Held {
        let when = |event: &SlotEvent| event.rank(&self.history.order).is_none_or(|at| at < self.rank);
        let known = sorted::until(&track.events, when);
        let mut held = Held { asked: None, read: None, unknown: None, stale: None, later: false };
        let hole = self.hole(place, track);
        // What was benched at another hole is not what the bar is now.
        let elsewhere = |event: &SlotEvent| {
            let benched = event.line(self.book).and_then(|line| likeness::hole(self.facts, line));
            benched.zip(hole).is_some_and(|(benched, hole)| benched.to_bits() != hole.to_bits())
        };
        for event in known.iter().rev().filter(|event| !elsewhere(event)) {
            match event.register() {
                Register::Unknown => {
                    if held.asked.is_none() && held.read.is_none() {
                        held.unknown = Some(*event);
                    }
                    break;
                }
                Register::Asked if held.asked.is_none() => held.asked = Some(*event),
                Register::Read if held.read.is_none() => held.read = Some(*event),
                _ => {}
            }
            if held.asked.is_some() && held.read.is_some() {
                break;
            }
        }
        if let Owner::Part(part) = track.owner {
            self.on_bench(part, track, &elsewhere, &mut held);
        }
        if with_session {
            self.of_session(track, known.len(), &mut held);
        }
        let read = held.read.filter(|_| !held.later);
        if let Some((entry, at)) = read.and_then(|read| read.entry.zip(read.rank(&self.history.order))) {
            let reading = Reading { quantity: track.quantity, place, entry, owner: track.owner };
            held.stale = likeness::changes(self.facts, self.car, reading, [at, self.rank]).next();
        }
        held
    }

    /// Of the moment during a session: what it read itself (its lines stand behind the moment, since they are of its end) before what was
    /// read before it; and never what another session used, or weighed as it came in.
    fn of_session(&self, track: &Track, next: usize, held: &mut Held) {
        let what = self.book.vocabulary.get(track.quantity);
        // A state of the car is as it was run; what is filled is an account.
        let outcome = !what.is_disturbed() && !what.disturbed_by_hit && &*what.name != "fuel";
        if !outcome || held.asked.is_some() {
            return;
        }
        let run_of = |event: &SlotEvent| self.history.during(self.book, event.entry?);
        let later = track.events.get(next..).unwrap_or_default();
        let own = later.first().and_then(run_of).filter(|run| self.is_during(*run));
        if let Some(run) = own {
            let read = |event: &&SlotEvent| {
                let verb = event.line(self.book).map(|line| line.verb);
                event.register() == Register::Read && matches!(verb, Some(Verb::Read | Verb::Found))
            };
            let of_it = later.iter().take_while(|event| run_of(event) == Some(run));
            if let Some(last) = of_it.last() {
                let unknown = last.register() == Register::Unknown;
                held.unknown = Some(*last).filter(|_| unknown).or(held.unknown.filter(|_| !read(&last)));
                held.read = if unknown { None } else { Some(*last).filter(|last| read(&last)).or(held.read) };
                return;
            }
        }
        let session = |rank: Rank| {
            let before = self.history.sessions.between(self.car, Rank::START, rank);
            before.last().map(|id| self.history.sessions.get(*id))
        };
        if is_of_one_session(&what.name)
            && let Some(now) = session(self.rank).filter(|session| session.during == self.rank)
            && held.read.as_ref().and_then(run_of) != Some(now.entry)
        {
            held.read = None;
        }
    }

    /// Whether this is the moment during the session of a `run` line of the car.
    fn is_during(&self, run: EntryId) -> bool {
        let Some(began) = self.history.order.rank.get(run).copied() else { return false };
        let found = self.history.sessions.between(self.car, began, began.next());
        found.first().is_some_and(|id| {
            let session = self.history.sessions.get(*id);
            session.entry == run && session.during == self.rank
        })
    }

    /// Where the same thing was stated in its other form since it was stated at a place: the newer of the two forms stands for both, so
    /// that what the older says is not known any more.
    #[must_use]
    pub fn restated(&self, quantity: QuantityId, place: Place) -> Option<Place> {
        let forms = other_forms(self.book, quantity, place);
        let last = |of: Place| {
            let track = self.history.slots.find(Owner::Car(self.car), quantity, of)?;
            let until = |event: &SlotEvent| event.rank(&self.history.order).is_none_or(|at| at < self.rank);
            let event = sorted::until(&track.events, until).last()?;
            Some(event.rank(&self.history.order).unwrap_or(Rank::START))
        };
        let own = if forms.is_empty() { None } else { last(place) }?;
        forms.into_iter().find(|form| last(*form).is_some_and(|other| other > own))
    }

    /// What the bench says of a part is so for the whole of its life, before and after.
    fn on_bench(&self, part: PartId, track: &Track, elsewhere: &dyn Fn(&SlotEvent) -> bool, held: &mut Held) {
        let of_bench = |event: &SlotEvent| event.line(self.book).is_some_and(|line| line.verb == Verb::Bench);
        let rank = |event: &SlotEvent| event.rank(&self.history.order);
        if held.read.is_some_and(|read| of_bench(&read)) {
            let (from, _) = benched::life(self.history, part, self.rank);
            let read = held.read.and_then(|read| rank(&read));
            if from.zip(read).is_some_and(|(from, read)| read < from) {
                held.read = None;
            }
        }
        if held.asked.is_none() && held.read.is_none() && held.unknown.is_none() {
            let lines = track.events.iter().filter(|event| of_bench(event) && !elsewhere(event));
            let lines = lines.filter_map(|event| Some((rank(event)?, *event))).collect::<Vec<_>>();
            held.read = benched::in_life(self.history, part, self.rank, lines.into_iter()).pop();
            held.later = held.read.and_then(|read| rank(&read)).is_some_and(|read| read >= self.rank);
        }
    }

    /// The hole that a part's own reading is asked about, where the car has one there: a bar has a rate at each.
    fn hole(&self, place: Place, track: &Track) -> Option<f64> {
        let hole = self.book.vocabulary.find("bar-hole")?;
        let of_part = matches!(track.owner, Owner::Part(_));
        if !of_part || !self.book.vocabulary.get(track.quantity).feels(hole) {
            return None;
        }
        let slot = self.slot(hole, place)?;
        let is = slot.held.is(self.history)?;
        let item = self.history.item(self.book, slot.track, &is)?;
        item.has_value().then_some(is.value)
    }

    /// Every slot that holds or held something, in order of area, quantity, place.
    #[must_use]
    pub fn slots(&self) -> Vec<SlotState<'a>> {
        let mut list: Vec<SlotState<'a>> = Vec::new();
        let history = self.history;
        for track in history.slots.of(Owner::Car(self.car)) {
            // A part that carries or gives the quantity hides the car's own slot while it is there.
            // What was stated since in its other form (an axle's toe, its wheels') is not known any more.
            if self.owner(track.quantity, track.place) == Owner::Car(self.car)
                && self.giver(track.quantity, track.place).is_none()
                && self.restated(track.quantity, track.place).is_none()
            {
                list.extend(self.said(track, track.place, None));
            }
        }
        for place in self.places() {
            let Some(part) = place.part else { continue };
            let kind = &self.book.kinds[place.kind];
            for quantity in kind.carries.iter().chain(&kind.gives) {
                for track in history.slots.of_quantity(Owner::Part(part), *quantity) {
                    list.extend(track.place_on(place.place).and_then(|at| self.said(track, at, Some(part))));
                }
            }
        }
        list.sort_by_key(|slot| (self.book.vocabulary.get(slot.quantity).area, slot.quantity, slot.place));
        list
    }

    /// A track's slot, if it was ever said.
    fn said(&self, track: &'a Track, place: Place, part: Option<PartId>) -> Option<SlotState<'a>> {
        let held = self.held(place, track);
        let said = held.asked.is_some() || held.read.is_some() || held.unknown.is_some();
        said.then_some(SlotState { quantity: track.quantity, place, part, track, held })
    }

    /// Every place that ever held a part, and who is there.
    #[must_use]
    pub fn places(&self) -> Vec<PlaceState> {
        let parts = &self.history.parts;
        let part = |kind: &KindId, place: &Place| parts.holder(self.car, *kind, *place, self.rank);
        let all = parts.places_of(self.car).iter();
        all.map(|(kind, place)| PlaceState { kind: *kind, place: *place, part: part(kind, place) }).collect()
    }

    /// One slot, by quantity and place.
    #[must_use]
    pub fn slot(&self, quantity: QuantityId, place: Place) -> Option<SlotState<'a>> {
        let given = self.giver(quantity, place).map(|part| (Owner::Part(part), Place::CAR));
        let (whose, at) = given.unwrap_or_else(|| self.slot_of(quantity, place));
        let part = match whose {
            Owner::Part(part) => Some(part),
            Owner::Car(_) => None,
        };
        let track = self.facts.history.slots.find(whose, quantity, at)?;
        Some(SlotState { quantity, place, part, track, held: self.held(place, track) })
    }

    /// A slot as the lines above leave it: nothing that stands at the moment or behind it, not even what its session reads itself.
    #[must_use]
    pub fn slot_above(&self, quantity: QuantityId, place: Place) -> Option<SlotState<'a>> {
        let slot = self.slot(quantity, place)?;
        Some(SlotState { held: self.held_by(slot.place, slot.track, false), ..slot })
    }

    /// The number that a slot stands at, SI; `None` where it is not known, or no number.
    #[must_use]
    pub fn number(&self, quantity: QuantityId, place: Place) -> Option<f64> {
        let slot = self.slot(quantity, place)?;
        let event = slot.held.is(self.history)?;
        let item = self.history.item(self.book, slot.track, &event)?;
        item.has_value().then_some(event.value)
    }

    /// Whose a slot is: a part's where a part in that place carries the quantity, else the car's.
    #[must_use]
    pub fn owner(&self, quantity: QuantityId, place: Place) -> Owner {
        self.carrying().owner(self.car, quantity, place, self.rank)
    }

    /// Whose a slot is, and where in its owner.
    #[must_use]
    pub fn slot_of(&self, quantity: QuantityId, place: Place) -> (Owner, Place) {
        self.carrying().slot(self.car, quantity, place, self.rank)
    }

    /// The part in that place that gives the quantity (a spring its rate), if one is fitted.
    #[must_use]
    pub fn giver(&self, quantity: QuantityId, place: Place) -> Option<PartId> {
        self.carrying().giver(self.car, quantity, place, self.rank)
    }

    fn carrying(&self) -> Carrying<'a> {
        let Facts { book, history, .. } = self.facts;
        history.slots.carrying(book, &history.parts)
    }
}
