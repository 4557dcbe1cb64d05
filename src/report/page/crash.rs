//! A car after an impact: one page for each `hit`.

use super::Sort;
use crate::book::entry::EntryId;
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::key::Listed;
use crate::report::section::crash::{self, Crash};
use crate::report::section::frame::Frame;
use crate::report::teller::Teller;

/// The page of an impact, as it is listed.
pub(in crate::report) fn listed(tell: &Teller<'_>, car: CarId, (line, place): (EntryId, Place)) -> Listed {
    let date = tell.cx.date(line);
    let when = crash::event(tell, line).map_or_else(
        || date.map_or_else(String::new, |date| date.to_string()),
        |event| tell.event(event).to_owned(),
    );
    Listed {
        key: Key::Crash(car, line),
        text: format!("Crash sheet {when}, {}", tell.cx.place(place)),
        name: vec![tell.cx.car(car).to_owned(), when, "crash".to_owned()],
        remark: "",
        year: date.map(jiff::civil::Date::year),
    }
}

impl Sort for Crash {
    const TEMPLATE: &'static str = "crash.html";
    const HEADING: &'static str = "After an impact:";

    fn of_car(tell: &Teller<'_>, options: Options, car: CarId) -> Vec<Listed> {
        let all = crash::hits(tell, car).into_iter().map(|hit| listed(tell, car, hit));
        all.filter(|one| options.season.is_none_or(|only| one.year == Some(only))).collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Crash(car, line) = key else { return None };
        crash::view(desk, car, line)
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
