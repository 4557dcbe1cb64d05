//! Power and fuel on a card: one page a car of whose fuel system the book says anything, and that was not sold.

use super::Sort;
use crate::book::model::CarId;
use crate::report::desk::{Desk, Options};
use crate::report::key::{Key, Listed};
use crate::report::section::frame::Frame;
use crate::report::section::power::{self, PowerCard};
use crate::report::section::year;
use crate::report::teller::Teller;

/// The page, as it is listed.
pub(in crate::report) fn listed(tell: &Teller<'_>, car: CarId) -> Listed {
    Listed {
        key: Key::Power(car),
        name: vec![tell.cx.car(car).to_owned(), "power".to_owned()],
        text: "Power and fuel".to_owned(),
        remark: "inputs, and the margin in words",
        year: None,
    }
}

impl Sort for PowerCard {
    const TEMPLATE: &'static str = "power.html";

    fn of_car(tell: &Teller<'_>, options: Options, car: CarId) -> Vec<Listed> {
        let sold = tell.cx.history.parts.sold.contains_key(&car);
        let wanted = options.season.is_none() && !sold && !year::years(tell, car).is_empty();
        (wanted && power::any(tell, car)).then(|| listed(tell, car)).into_iter().collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Power(car) = key else { return None };
        Some(power::view(desk, car))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
