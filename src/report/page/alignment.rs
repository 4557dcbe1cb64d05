//! The sheet for the alignment bay: one page a car that has any dated line and was not sold.

use super::Sort;
use super::at_end::AtEnd;
use crate::book::model::CarId;
use crate::report::desk::{Desk, Options};
use crate::report::key::{Key, Listed};
use crate::report::section::alignment::{self, AlignmentSheet};
use crate::report::section::frame::Frame;
use crate::report::teller::Teller;

const AT_END: AtEnd = AtEnd {
    key: Key::Alignment,
    word: "alignment",
    text: "Alignment sheet",
    remark: "last left, found, boxes to write in",
};

/// The page, as it is listed.
pub(in crate::report) fn listed(tell: &Teller<'_>, car: CarId) -> Listed {
    AT_END.listed(tell, car)
}

impl Sort for AlignmentSheet {
    const TEMPLATE: &'static str = "alignment.html";

    fn of_car(tell: &Teller<'_>, options: Options, car: CarId) -> Vec<Listed> {
        AT_END.of_car(tell, options, car, |_, _| true)
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Alignment(car) = key else { return None };
        Some(alignment::view(desk, car))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
