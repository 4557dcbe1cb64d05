//! A car's season: one page a year in which the book has a line about it.

use super::Sort;
use crate::book::model::{CarId, EventId};
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::key::Listed;
use crate::report::section::frame::Frame;
use crate::report::section::season::{self, Season};
use crate::report::section::year;
use crate::report::teller::Teller;

impl Sort for Season {
    const TEMPLATE: &'static str = "season.html";

    fn of_car(tell: &Teller<'_>, options: Options, car: CarId) -> Vec<Listed> {
        let years = year::years(tell, car).into_iter();
        let years = years.filter(|year| options.season.is_none_or(|only| only == *year));
        let listed = |year: i16| Listed {
            key: Key::Season(car, year),
            name: vec![tell.cx.car(car).to_owned(), year.to_string()],
            text: format!("Season {year}"),
            remark: "",
            year: Some(year),
        };
        years.map(listed).collect()
    }

    fn events(tell: &Teller<'_>, key: Key) -> Vec<EventId> {
        let Key::Season(car, year) = key else { return Vec::new() };
        season::events(tell, car, year)
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Season(car, year) = key else { return None };
        Some(season::view(desk, car, year))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
