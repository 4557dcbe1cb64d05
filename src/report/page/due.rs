//! What is due before the next event, for the wall. The shop's: only a whole report has it, and only where an event lies ahead.

use super::Sort;
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::key::Listed;
use crate::report::section::due::{self, DueList};
use crate::report::section::frame::Frame;
use crate::report::teller::Teller;

impl Sort for DueList {
    const TEMPLATE: &'static str = "due.html";

    fn of_book(tell: &Teller<'_>, options: Options) -> Vec<Listed> {
        let next = tell.next_event().filter(|_| options.whole() && !tell.is_cut());
        let page = next.map(|event| Listed {
            key: Key::Due,
            name: vec!["due".to_owned()],
            text: format!("Due before {}", tell.event(event)),
            remark: "one sheet for the wall",
            year: None,
        });
        page.into_iter().collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        if key == Key::Due { due::view(desk) } else { None }
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
