//! What the book still lacks of the events behind it: one page, the shop's own.

use super::Sort;
use crate::book::model::EventId;
use crate::report::desk::{Desk, Options};
use crate::report::key::{Key, Listed};
use crate::report::section::frame::Frame;
use crate::report::section::monday::{self, MondayList};
use crate::report::teller::Teller;

/// The page, as it is listed.
pub(in crate::report) fn listed(tell: &Teller<'_>, event: Option<EventId>) -> Listed {
    let name = event.map(|event| tell.event(event).to_owned());
    Listed {
        key: Key::Monday(event),
        text: monday::TITLE.to_owned(),
        name: std::iter::once("lacks".to_owned()).chain(name).collect(),
        remark: "what to write before it is forgotten",
        year: None,
    }
}

impl Sort for MondayList {
    const TEMPLATE: &'static str = "monday.html";
    const LARGE: bool = true;

    fn of_book(tell: &Teller<'_>, options: Options) -> Vec<Listed> {
        let wanted = options.whole() && !tell.is_cut() && tell.until().is_some();
        wanted.then(|| listed(tell, None)).into_iter().collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Monday(event) = key else { return None };
        Some(monday::view(desk, event))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
