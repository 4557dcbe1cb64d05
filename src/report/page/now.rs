//! A car between sessions: one page a car that has any dated line.

use super::Sort;
use crate::book::model::CarId;
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::key::Listed;
use crate::report::section::frame::Frame;
use crate::report::section::now::{self, Now};
use crate::report::section::year;
use crate::report::teller::Teller;

/// The page, as it is listed.
pub(in crate::report) fn listed(tell: &Teller<'_>, car: CarId) -> Listed {
    Listed {
        key: Key::Now(car),
        name: vec![tell.cx.car(car).to_owned(), "now".to_owned()],
        text: "Now".to_owned(),
        remark: "the setup, the last sessions, what was said before",
        year: None,
    }
}

impl Sort for Now {
    const TEMPLATE: &'static str = "now.html";

    fn of_car(tell: &Teller<'_>, options: Options, car: CarId) -> Vec<Listed> {
        let years = year::years(tell, car);
        let asked = match options.season {
            Some(only) => years.contains(&only),
            None => !years.is_empty(),
        };
        asked.then(|| listed(tell, car)).into_iter().collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Now(car) = key else { return None };
        Some(now::view(desk, car))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
