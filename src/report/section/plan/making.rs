//! What a plan is made with: the car, the moment, and what stands there.
//!
//! Must not know where on the plan a value is shown.

use crate::book::model::{CarId, CircuitId};
use crate::book::place::Place;
use crate::figures::calc::Calc;
use crate::history::order::Rank;
use crate::history::state::SlotState;
use crate::report::section::setup::Tag;
use crate::report::teller::Teller;
use crate::vocabulary::QuantityId;

/// Which car, when and where.
#[derive(Debug, Clone, Copy)]
pub(in crate::report) struct PlanMoment {
    /// The car.
    pub car: CarId,
    /// The moment: everything with a rank below it has happened.
    pub rank: Rank,
    /// Where it runs; hot pressures were read there before.
    pub circuit: Option<CircuitId>,
}

/// What a plan is made with.
pub(super) struct Making<'t, 'a> {
    pub(super) tell: &'t Teller<'a>,
    pub(super) when: PlanMoment,
    pub(super) slots: Vec<SlotState<'a>>,
    pub(super) tags: Vec<Tag>,
    pub(super) calc: Calc<'a>,
    pub(super) imperial: bool,
    pub(super) notes: Vec<String>,
}

impl<'a> Making<'_, 'a> {
    pub(super) fn quantity(&self, name: &str) -> Option<QuantityId> {
        self.tell.cx.book.vocabulary.find(name)
    }

    pub(super) fn slot(&self, quantity: QuantityId, place: Place) -> Option<SlotState<'a>> {
        self.slots.iter().find(|slot| slot.quantity == quantity && slot.place == place).copied()
    }

    /// The number of a remark, the same for the same words.
    pub(super) fn note(&mut self, words: String) -> usize {
        if let Some(at) = self.notes.iter().position(|known| *known == words) {
            return at + 1;
        }
        self.notes.push(words);
        self.notes.len()
    }
}
