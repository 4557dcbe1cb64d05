//! When something breaks on a car: one page a car that was not sold. The shop's own: it tells of other cars.

use super::Sort;
use crate::book::model::CarId;
use crate::report::desk::{Desk, Options};
use crate::report::key::{Key, Listed};
use crate::report::section::frame::Frame;
use crate::report::section::spare::{self, SparePage};
use crate::report::section::year;
use crate::report::teller::Teller;

/// The page, as it is listed.
pub(in crate::report) fn listed(tell: &Teller<'_>, car: CarId) -> Listed {
    Listed {
        key: Key::Spare(car),
        name: vec![tell.cx.car(car).to_owned(), "spares".to_owned()],
        text: "If it breaks".to_owned(),
        remark: "what goes in its place, and the line to type",
        year: None,
    }
}

impl Sort for SparePage {
    const TEMPLATE: &'static str = "spare.html";

    fn of_car(tell: &Teller<'_>, options: Options, car: CarId) -> Vec<Listed> {
        let sold = tell.cx.history.parts.sold.contains_key(&car);
        let wanted =
            options.season.is_none() && !tell.is_cut() && !sold && !year::years(tell, car).is_empty();
        wanted.then(|| listed(tell, car)).into_iter().collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Spare(car) = key else { return None };
        Some(spare::view(desk, car))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
