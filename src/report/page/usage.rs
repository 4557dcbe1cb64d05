//! Which part was where on a car, session by session: one page a year in which it ran and had a part on it.

use super::Sort;
use crate::book::model::CarId;
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::key::Listed;
use crate::report::section::frame::Frame;
use crate::report::section::usage::{self, UsagePage};
use crate::report::section::year;
use crate::report::teller::Teller;

impl Sort for UsagePage {
    const TEMPLATE: &'static str = "usage.html";

    fn of_car(tell: &Teller<'_>, options: Options, car: CarId) -> Vec<Listed> {
        let years = year::years(tell, car).into_iter();
        let years = years.filter(|year| options.season.is_none_or(|only| only == *year));
        let listed = |year: i16| Listed {
            key: Key::Usage(car, year),
            name: vec![tell.cx.car(car).to_owned(), year.to_string(), "parts".to_owned()],
            text: format!("Parts {year}, session by session"),
            remark: "",
            year: Some(year),
        };
        years.filter(|year| usage::any(tell, car, *year)).map(listed).collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Usage(car, year) = key else { return None };
        Some(usage::view(desk, car, year))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
