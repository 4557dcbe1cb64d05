//! What to load for an event: one page for each event ahead and for each of the book's last year, or of the year asked for. The
//! shop's own: only a report of all cars has it.

use super::Sort;
use crate::book::model::EventId;
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::key::Listed;
use crate::report::section::frame::Frame;
use crate::report::section::load::{self, Load};
use crate::report::teller::Teller;

/// The page, as it is listed.
pub(in crate::report) fn listed(tell: &Teller<'_>, event: EventId) -> Listed {
    let name = tell.event(event).to_owned();
    Listed {
        key: Key::Load(event),
        text: format!("Load list {name}"),
        name: vec!["load".to_owned(), name],
        remark: "",
        year: tell.cx.book.events.get(event).map(|event| event.first.year()),
    }
}

impl Sort for Load {
    const TEMPLATE: &'static str = "load.html";
    const LARGE: bool = true;
    const HEADING: &'static str = "What to load:";

    fn of_book(tell: &Teller<'_>, options: Options) -> Vec<Listed> {
        let Some(until) = tell.until().filter(|_| options.car.is_none() && !tell.is_cut()) else {
            return Vec::new();
        };
        let wanted = |listed: &Listed| match options.season {
            Some(only) => listed.year == Some(only),
            None => listed.year.is_some_and(|year| year >= until.year()),
        };
        let all = tell.cx.book.events.keys();
        let mut list: Vec<Listed> = all
            .map(|event| listed(tell, event))
            .filter(wanted)
            .filter(|one| matches!(one.key, Key::Load(event) if load::any(tell, event)))
            .collect();
        list.sort_by_key(|one| match one.key {
            Key::Load(event) => tell.cx.book.events.get(event).map(|event| event.first),
            _ => None,
        });
        list
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Load(event) = key else { return None };
        load::view(desk, event)
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
