//! The shop's costs: one page a year in which something was booked. It is the shop's, and only a report of all cars has it.

use super::Sort;
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::key::Listed;
use crate::report::section::costs::{self, CostsPage};
use crate::report::section::frame::Frame;
use crate::report::section::money;
use crate::report::teller::Teller;

impl Sort for CostsPage {
    const TEMPLATE: &'static str = "costs.html";
    const LARGE: bool = true;

    fn of_book(tell: &Teller<'_>, options: Options) -> Vec<Listed> {
        if options.car.is_some() || tell.is_cut() {
            return Vec::new();
        }
        let years = money::years(tell).into_iter();
        let years = years.filter(|year| options.season.is_none_or(|only| only == *year));
        let listed = |year: i16| Listed {
            key: Key::Costs(year),
            name: vec!["costs".to_owned(), year.to_string()],
            text: format!("What {year} cost"),
            remark: "every car, by kind, and for the running",
            year: Some(year),
        };
        years.map(listed).collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Costs(year) = key else { return None };
        Some(costs::view(desk, year))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
