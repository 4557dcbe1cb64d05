//! A part's whole travel: a page only when they are asked for, reached from its kind's.

use super::Sort;
use crate::book::model::PartId;
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::key::Listed;
use crate::report::section::frame::Frame;
use crate::report::section::part::{self, PartPage};
use crate::report::teller::Teller;

impl Sort for PartPage {
    const TEMPLATE: &'static str = "part.html";
    const LISTED: bool = false;

    fn of_book(tell: &Teller<'_>, options: Options) -> Vec<Listed> {
        if !options.parts || !options.whole() || tell.is_cut() {
            return Vec::new();
        }
        let listed = |at: u32| {
            let name = tell.cx.part(PartId::new(at)).to_owned();
            Listed {
                key: Key::Part(PartId::new(at)),
                name: vec!["part".to_owned(), name.clone()],
                text: name,
                remark: "",
                year: None,
            }
        };
        (0..tell.cx.book.parts.len() as u32).map(listed).collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Part(part) = key else { return None };
        part::view(desk, part)
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
