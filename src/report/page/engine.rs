//! The engine check: one page a car of whose cylinders anything was read over hours, and that was not sold.

use super::Sort;
use crate::book::model::CarId;
use crate::report::desk::{Desk, Options};
use crate::report::key::{Key, Listed};
use crate::report::section::engine::{self, EngineCheck};
use crate::report::section::frame::Frame;
use crate::report::section::year;
use crate::report::teller::Teller;

/// The page, as it is listed.
pub(in crate::report) fn listed(tell: &Teller<'_>, car: CarId) -> Listed {
    Listed {
        key: Key::Engine(car),
        name: vec![tell.cx.car(car).to_owned(), "engine".to_owned()],
        text: "Engine check".to_owned(),
        remark: "cylinder by cylinder over its hours",
        year: None,
    }
}

impl Sort for EngineCheck {
    const TEMPLATE: &'static str = "engine.html";

    fn of_car(tell: &Teller<'_>, options: Options, car: CarId) -> Vec<Listed> {
        let sold = tell.cx.history.parts.sold.contains_key(&car);
        let wanted = options.season.is_none() && !sold && !year::years(tell, car).is_empty();
        (wanted && engine::any(tell, car)).then(|| listed(tell, car)).into_iter().collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Engine(car) = key else { return None };
        Some(engine::view(desk, car))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
