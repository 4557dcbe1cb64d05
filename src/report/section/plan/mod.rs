//! The car seen from above: its four corners where they stand, what belongs to an axle between them, the rest in the body.
//!
//! Must not know which page shows it.

mod across;
mod axle;
mod body;
mod making;
mod spot;

use super::setup;
use super::value::ShownValue;
use crate::book::place::Place;
use crate::figures::calc::Calc;
use crate::history::Moment;
use crate::report::section::plan::making::Making;
use crate::report::teller::Teller;
use serde::Serialize;

pub(in crate::report) use across::across;
pub use across::{Across, AcrossRow};
pub use axle::{Axle, PlanPair};
pub use body::BodyGroup;
pub(in crate::report) use making::PlanMoment;
pub use spot::{PlanItem, Spot};

/// The car seen from above, its front at the top.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PlanDrawing {
    /// The file that most of the lines are in: on paper they are named by their number alone.
    pub file: String,
    /// The front axle.
    pub front: Axle,
    /// The rear axle.
    pub rear: Axle,
    /// What belongs to no axle.
    pub body: Vec<BodyGroup>,
    /// What nobody touches between sessions, and the shop's own quantities.
    pub away: Vec<BodyGroup>,
    /// What to know of some values, by the number that stands at them, from 1.
    pub notes: Vec<String>,
}

impl PlanDrawing {
    /// A value of the body by its name.
    pub(in crate::report) fn in_body(&self, name: &str) -> Option<&ShownValue> {
        let items = self.body.iter().flat_map(|group| &group.items);
        items.filter(|item| item.name == name).map(|item| &item.spot.value).next()
    }
}

/// Makes the plan.
pub(in crate::report) fn plan(tell: &Teller<'_>, when: PlanMoment) -> PlanDrawing {
    let cx = &tell.cx;
    let slots = cx.on(when.car, when.rank).slots();
    let tags = setup::tags(tell, when.car, when.rank, &slots);
    let moment = Moment::of_rank(when.rank);
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
    PlanDrawing { file, front, rear, body, away, notes: making.notes }
}
