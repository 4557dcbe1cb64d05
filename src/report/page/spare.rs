//! When something breaks on a car: one page a car that was not sold. The shop's own: it tells of other cars.

use super::Sort;
use super::at_end::AtEnd;
use crate::book::model::CarId;
use crate::report::desk::{Desk, Options};
use crate::report::key::{Key, Listed};
use crate::report::section::frame::Frame;
use crate::report::section::spare::{self, SparePage};
use crate::report::teller::Teller;

const AT_END: AtEnd = AtEnd {
    key: Key::Spare,
    word: "spares",
    text: "If it breaks",
    remark: "what goes in its place, and the line to type",
};

/// The page, as it is listed.
pub(in crate::report) fn listed(tell: &Teller<'_>, car: CarId) -> Listed {
    AT_END.listed(tell, car)
}

impl Sort for SparePage {
    const TEMPLATE: &'static str = "spare.html";

    fn of_car(tell: &Teller<'_>, options: Options, car: CarId) -> Vec<Listed> {
        AT_END.of_car(tell, options, car, |tell, _| !tell.is_cut())
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Spare(car) = key else { return None };
        Some(spare::view(desk, car))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
