//! The car seen from above: its four corners where they stand, what belongs to an axle between them, the rest in the body.
//!
//! Must not know which page shows it.

mod across;
mod axle;
mod body;
mod spot;

use super::setup::{self, Tag};
use super::value::Value;
use crate::book::model::{CarId, CircuitId};
use crate::book::place::Place;
use crate::figures::calc::Calc;
use crate::history::Moment;
use crate::history::order::Rank;
use crate::history::state::SlotState;
use crate::report::teller::Teller;
use crate::vocabulary::QuantityId;
use schemars::JsonSchema;
use serde::Serialize;

pub(in crate::report) use across::across;
pub use across::{Across, Row};
pub use axle::{Axle, Pair};
pub use body::Group;
pub use spot::{Item, Spot};

/// The car seen from above, its front at the top.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Plan {
    /// The file that most of the lines are in: on paper they are named by their number alone.
    pub file: String,
    /// The front axle.
    pub front: Axle,
    /// The rear axle.
    pub rear: Axle,
    /// What belongs to no axle.
    pub body: Vec<Group>,
    /// What nobody touches between sessions, and the shop's own quantities.
    pub away: Vec<Group>,
    /// What to know of some values, by the number that stands at them, from 1.
    pub notes: Vec<String>,
}

impl Plan {
    /// A value of the body by its name.
    pub(in crate::report) fn in_body(&self, name: &str) -> Option<&Value> {
        let items = self.body.iter().flat_map(|group| &group.items);
        items.filter(|item| item.name == name).map(|item| &item.spot.value).next()
    }
}

/// Which car, when and where.
#[derive(Debug, Clone, Copy)]
pub(in crate::report) struct When {
    /// The car.
    pub car: CarId,
    /// The moment: everything with a rank below it has happened.
    pub rank: Rank,
    /// Where it runs; hot pressures were read there before.
    pub circuit: Option<CircuitId>,
}

/// What a plan is made with.
struct Making<'t, 'a> {
    tell: &'t Teller<'a>,
    when: When,
    slots: Vec<SlotState<'a>>,
    tags: Vec<Tag>,
    calc: Calc<'a>,
    imperial: bool,
    notes: Vec<String>,
}

/// Makes the plan.
pub(in crate::report) fn plan(tell: &Teller<'_>, when: When) -> Plan {
    let cx = &tell.cx;
    let slots = cx.on(when.car, when.rank).slots();
    let tags = setup::tags(tell, when.car, when.rank, &slots);
    let moment = Moment { rank: when.rank, words: String::new(), event: None, session: None };
    let mut making = Making {
        tell,
        when,
        slots,
        tags,
        calc: Calc::new(cx.facts, when.car, &moment),
        imperial: cx.book.cars.get(when.car).is_some_and(|car| car.imperial),
        notes: Vec::new(),
    };
    let front = axle::axle(&mut making, Place::FRONT);
    let rear = axle::axle(&mut making, Place::REAR);
    let body = body::groups(&mut making);
    let away = body::away(&mut making);
    let file = tell.home(when.car).map_or_else(String::new, |file| cx.files.path(file).to_owned());
    Plan { file, front, rear, body, away, notes: making.notes }
}

impl<'a> Making<'_, 'a> {
    fn quantity(&self, name: &str) -> Option<QuantityId> {
        self.tell.cx.book.vocabulary.find(name)
    }

    fn slot(&self, quantity: QuantityId, place: Place) -> Option<SlotState<'a>> {
        self.slots.iter().find(|slot| slot.quantity == quantity && slot.place == place).copied()
    }

    /// The number of a remark, the same for the same words.
    fn note(&mut self, words: String) -> usize {
        if let Some(at) = self.notes.iter().position(|known| *known == words) {
            return at + 1;
        }
        self.notes.push(words);
        self.notes.len()
    }
}
