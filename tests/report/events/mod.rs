//! The pages one carries to an event: what they say of the demo book, of small books, of empty ones and of long names.

mod align;
mod alone;
mod asked;
mod crash;
mod due;
mod edges;
mod engine;
mod index;
mod load;
mod night;
mod now;
mod sheet;
mod weekend;

use super::html::{read, words};
use super::{demo, page, pages, text};
use std::sync::LazyLock;
use stringline::report::Page;

/// The demo's pages, made once.
static DEMO: LazyLock<Vec<Page>> = LazyLock::new(|| pages(&demo()));

/// The words of a page of the demo.
fn of_demo(name: &str) -> String {
    words(&read(&page(&DEMO, name).html)).replace(['\u{2007}', '\u{2008}'], "")
}

/// The words of a page of a book.
fn of_book(book: &str, name: &str) -> String {
    words(&read(&page(&pages(&text(book)), name).html)).replace(['\u{2007}', '\u{2008}'], "")
}

/// Whether these stand in a text, one after the other.
#[track_caller]
fn in_order(said: &str, wanted: &[&str]) {
    let mut rest = said;
    for one in wanted {
        let at = rest.find(one).unwrap_or_else(|| panic!("no {one:?} after that in: {rest}"));
        rest = &rest[at + one.len()..];
    }
}
