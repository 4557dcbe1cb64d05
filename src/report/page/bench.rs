//! The rate book's page. It is the shop's, whichever car a part is on, and only a whole report has it.

use super::Sort;
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::key::Listed;
use crate::report::section::bench::{self, Bench};
use crate::report::section::frame::Frame;
use crate::report::teller::Teller;

impl Sort for Bench {
    const TEMPLATE: &'static str = "bench.html";

    fn of_book(tell: &Teller<'_>, options: Options) -> Vec<Listed> {
        let there = options.whole() && !tell.is_cut() && bench::any(tell);
        let page = there.then(|| Listed {
            key: Key::Bench,
            name: vec!["bench".to_owned()],
            text: bench::TITLE.to_owned(),
            remark: "every rate on the bench, softest to stiffest",
            year: None,
        });
        page.into_iter().collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        (key == Key::Bench).then(|| bench::view(desk.tell))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
