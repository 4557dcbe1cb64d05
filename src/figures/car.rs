//! What a calculation may ask of its car; a bench figure has none, and each of these then has no answer.
//!
//! Must not know any figure.

use super::calc::{Calc, Fig, Got, Missing};
use crate::book::entry::{EntryId, Verb};
use crate::book::model::{Car, PartId};
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::sessions::{Session, SessionId};
use crate::history::slots::Owner;
use crate::vocabulary::QuantityId;
use jiff::civil::Date;

impl<'a> Calc<'a> {
    /// The car as it is declared.
    pub(super) fn declared(&self) -> Option<&'a Car> {
        self.book.cars.get(self.car?)
    }

    /// The part in that place that gives the quantity (a spring its rate), at the moment that the figure on the way is of.
    ///
    /// # Errors
    /// Where a line with a mistake may have taken it off: what is there gives something else.
    pub(super) fn giver(&self, id: QuantityId, place: Place) -> Got<Option<PartId>> {
        let giver = self.car.and_then(|car| self.on(car, self.rank_of(id)).giver(id, place));
        self.surely_on(giver, id, place)
    }

    /// The part in that place whose tag tells the quantity where nothing else does: one that gives it, or carries it.
    ///
    /// # Errors
    /// Where a line with a mistake may have taken it off.
    pub(super) fn tells(&self, id: QuantityId, place: Place) -> Got<Option<PartId>> {
        let part = self.car.and_then(|car| {
            let standing = self.on(car, self.rank_of(id));
            standing.giver(id, place).or_else(|| match standing.owner(id, place) {
                Owner::Part(part) => Some(part),
                Owner::Car(_) => None,
            })
        });
        self.surely_on(part, id, place)
    }

    fn surely_on(&self, part: Option<PartId>, id: QuantityId, place: Place) -> Got<Option<PartId>> {
        let rank = self.rank_of(id);
        let off = part.filter(|part| self.history.parts.get(*part).may_be_off(rank));
        let Some(named) = off.and_then(|part| self.book.parts.get(part)) else { return Ok(part) };
        let (slot, part) = (self.slot_name(id, place), &named.named.typed);
        Err(Missing::one(format!(
            "what gives {slot} put right (a line that may have taken {part} off has an error)"
        )))
    }

    /// "benched later, 15 Aug 2026", where a line of the bench comes after the moment that it is taken for.
    pub(super) fn benched_later(&self, line: EntryId) -> Option<String> {
        let later = self.history.order.rank.get(line).is_some_and(|rank| *rank >= self.rank);
        let day = self.history.order.date(self.book, line).filter(|_| later)?;
        Some(format!("benched later, {}", day.strftime("%-d %b %Y")))
    }

    /// The day of the bench line that a figure rests on and that comes after its moment, if one does.
    #[must_use]
    pub fn rests_on_later_bench(&self, fig: &Fig) -> Option<Date> {
        let lines =
            fig.typed().filter_map(|span| self.nodes.iter().find(|node| node.span == Some(span))?.entry);
        let later = lines.into_iter().find(|line| {
            let bench = self
                .book
                .entries
                .get(*line)
                .is_some_and(|line| matches!(line.verb, Verb::Bench | Verb::Points));
            bench && self.history.order.rank.get(*line).is_some_and(|rank| *rank >= self.rank)
        })?;
        self.history.order.date(self.book, later)
    }

    /// The car's last session that began before a rank.
    pub(super) fn session_before(&self, rank: Rank) -> Option<&'a Session> {
        let sessions = &self.history.sessions;
        sessions.before(self.car?, rank).map(|id| sessions.get(id))
    }

    /// Its sessions between two ranks.
    pub(super) fn between(&self, from: Rank, until: Rank) -> &'a [SessionId] {
        self.car.map_or(&[], |car| self.history.sessions.between(car, from, until))
    }

    /// The session that a line states.
    pub(super) fn session_of(&self, entry: crate::book::entry::EntryId) -> Got<&'a Session> {
        let found = self.history.sessions.of_run(entry).filter(|session| Some(session.car) == self.car);
        found.ok_or_else(|| Missing::one("a session (`run`)"))
    }
}
