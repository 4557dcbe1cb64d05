//! The first page.

use super::Sort;
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::key::Listed;
use crate::report::section::frame::Frame;
use crate::report::section::index::{self, Index};
use crate::report::teller::Teller;

impl Sort for Index {
    const TEMPLATE: &'static str = "index.html";
    const LISTED: bool = false;

    fn of_book(_: &Teller<'_>, _: Options) -> Vec<Listed> {
        vec![Listed {
            key: Key::Index,
            name: vec!["index".to_owned()],
            text: "All cars".to_owned(),
            remark: "",
            year: None,
        }]
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        (key == Key::Index).then(|| index::view(desk))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
