//! A client's letter; only in a report that was cut for him.

use super::Sort;
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::key::Listed;
use crate::report::section::client::{self, ClientPage};
use crate::report::section::frame::Frame;
use crate::report::teller::Teller;

impl Sort for ClientPage {
    const TEMPLATE: &'static str = "client.html";

    fn of_book(tell: &Teller<'_>, options: Options) -> Vec<Listed> {
        let Some(id) = options.client.filter(|_| tell.is_cut()) else { return Vec::new() };
        let Some(declared) = tell.cx.book.clients.get(id) else { return Vec::new() };
        vec![Listed {
            key: Key::Client(id),
            name: vec!["letter".to_owned(), declared.named.typed.to_string()],
            text: format!("The letter to {}", declared.named.title),
            remark: "what is open, done and next, and what it cost",
            year: None,
        }]
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Client(client) = key else { return None };
        Some(client::view(desk, client))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
