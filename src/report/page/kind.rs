//! How long the parts of a kind last. The shop's, whichever car a part was on: only a whole report has it.

use super::Sort;
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::key::Listed;
use crate::report::section::frame::Frame;
use crate::report::section::lives::{self, KindPage};
use crate::report::teller::Teller;

impl Sort for KindPage {
    const TEMPLATE: &'static str = "lives.html";
    const LARGE: bool = true;
    const HEADING: &'static str = "How long parts last:";

    fn of_book(tell: &Teller<'_>, options: Options) -> Vec<Listed> {
        if !options.whole() || tell.is_cut() {
            return Vec::new();
        }
        let listed = |kind: crate::book::model::KindId| {
            let name = tell.cx.book.kinds.get(kind).map_or("", |kind| &*kind.named.typed);
            Listed {
                key: Key::Kind(kind),
                name: vec!["lives".to_owned(), name.to_owned()],
                text: name.replace('-', " "),
                remark: "",
                year: None,
            }
        };
        lives::kinds(tell).into_iter().map(listed).collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Kind(kind) = key else { return None };
        lives::view(desk, kind)
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
