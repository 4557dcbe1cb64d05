//! Power and fuel on a card: one page a car of whose fuel system the book says anything, and that was not sold.

use super::Sort;
use super::at_end::AtEnd;
use crate::book::model::CarId;
use crate::report::desk::{Desk, Options};
use crate::report::key::{Key, Listed};
use crate::report::section::frame::Frame;
use crate::report::section::power::{self, PowerCard};
use crate::report::teller::Teller;

const AT_END: AtEnd = AtEnd {
    key: Key::Power,
    word: "power",
    text: "Power and fuel",
    remark: "inputs, and the margin in words",
};

/// The page, as it is listed.
pub(in crate::report) fn listed(tell: &Teller<'_>, car: CarId) -> Listed {
    AT_END.listed(tell, car)
}

impl Sort for PowerCard {
    const TEMPLATE: &'static str = "power.html";

    fn of_car(tell: &Teller<'_>, options: Options, car: CarId) -> Vec<Listed> {
        AT_END.of_car(tell, options, car, power::any)
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Power(car) = key else { return None };
        Some(power::view(desk, car))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
