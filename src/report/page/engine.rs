//! The engine check: one page a car of whose cylinders anything was read over hours, and that was not sold.

use super::Sort;
use super::at_end::AtEnd;
use crate::book::model::CarId;
use crate::report::desk::{Desk, Options};
use crate::report::key::{Key, Listed};
use crate::report::section::engine::{self, EngineCheck};
use crate::report::section::frame::Frame;
use crate::report::teller::Teller;

const AT_END: AtEnd = AtEnd {
    key: Key::Engine,
    word: "engine",
    text: "Engine check",
    remark: "cylinder by cylinder over its hours",
};

/// The page, as it is listed.
pub(in crate::report) fn listed(tell: &Teller<'_>, car: CarId) -> Listed {
    AT_END.listed(tell, car)
}

impl Sort for EngineCheck {
    const TEMPLATE: &'static str = "engine.html";

    fn of_car(tell: &Teller<'_>, options: Options, car: CarId) -> Vec<Listed> {
        AT_END.of_car(tell, options, car, engine::any)
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Engine(car) = key else { return None };
        Some(engine::view(desk, car))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
