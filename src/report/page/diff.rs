//! What changed on a car from one event to its next.

use super::Sort;
use crate::book::model::{CarId, EventId};
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::key::Listed;
use crate::report::section::diff::{self, DiffPage};
use crate::report::section::frame::Frame;
use crate::report::teller::Teller;

impl Sort for DiffPage {
    const TEMPLATE: &'static str = "diff.html";
    const HEADING: &'static str = "What changed between events:";

    fn of_car(tell: &Teller<'_>, options: Options, car: CarId) -> Vec<Listed> {
        let pairs = diff::pairs(tell, car, options.season).into_iter();
        let listed = |(first, second, year): (EventId, EventId, i16)| {
            let (then, now) = (tell.event(first).to_owned(), tell.event(second).to_owned());
            Listed {
                key: Key::Diff(car, first, second),
                text: format!("{then} to {now}"),
                name: vec![tell.cx.car(car).to_owned(), then, now],
                remark: "",
                year: Some(year),
            }
        };
        pairs.map(listed).collect()
    }

    fn events(_: &Teller<'_>, key: Key) -> Vec<EventId> {
        match key {
            Key::Diff(_, first, second) => vec![first, second],
            _ => Vec::new(),
        }
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Diff(car, first, second) = key else { return None };
        Some(diff::view(desk, car, (first, second)))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
