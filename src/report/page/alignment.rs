//! The sheet for the alignment bay: one page a car that has any dated line and was not sold.

use super::Sort;
use crate::book::model::CarId;
use crate::report::desk::{Desk, Options};
use crate::report::key::{Key, Listed};
use crate::report::section::alignment::{self, AlignmentSheet};
use crate::report::section::frame::Frame;
use crate::report::section::year;
use crate::report::teller::Teller;

/// The page, as it is listed.
pub(in crate::report) fn listed(tell: &Teller<'_>, car: CarId) -> Listed {
    Listed {
        key: Key::Alignment(car),
        name: vec![tell.cx.car(car).to_owned(), "alignment".to_owned()],
        text: "Alignment sheet".to_owned(),
        remark: "last left, found, boxes to write in",
        year: None,
    }
}

impl Sort for AlignmentSheet {
    const TEMPLATE: &'static str = "alignment.html";

    fn of_car(tell: &Teller<'_>, options: Options, car: CarId) -> Vec<Listed> {
        let sold = tell.cx.history.parts.sold.contains_key(&car);
        let wanted = options.season.is_none() && !sold && !year::years(tell, car).is_empty();
        wanted.then(|| listed(tell, car)).into_iter().collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Alignment(car) = key else { return None };
        Some(alignment::view(desk, car))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
