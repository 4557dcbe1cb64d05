//! The report pages: what they say of the demo book, that they are safe, whole and always the same bytes.

mod accounts;
mod balance;
mod book;
mod came_in;
mod charts;
mod client;
mod command;
mod credit;
mod drawn;
mod events;
mod figures;
mod footer;
mod handover;
mod hostile;
mod html;
mod jobs;
mod life_charts;
mod lives;
mod pages;
pub mod payloads;
mod roads;
#[cfg(feature = "schema")]
mod schema;
mod season;
mod style;
mod templates;
mod typeset;
pub mod valid;
mod winter;

#[cfg(not(feature = "schema"))]
#[test]
fn the_shapes_of_the_views() {
    use std::io::Write as _;
    let _ = writeln!(
        std::io::stderr(),
        "left out: the committed shapes of the views (add --features schema, or run ./tests/run)"
    );
}

use std::path::Path;
use stringline::report::Options;
use stringline::report::Page;
use stringline::report::render;
use stringline::source::{Disk, Files, LoadTrouble, Memory, World};
use stringline::{Compiled, compile};

/// The demo book, read at a fixed instant after its season.
struct Demo;

impl World for Demo {
    fn load(&self) -> Result<(Files, Vec<LoadTrouble>), String> {
        Disk { root: Path::new(env!("CARGO_MANIFEST_DIR")).join("ledgers/2026") }.load()
    }

    fn now(&self) -> jiff::Timestamp {
        "2026-12-01T12:00:00Z".parse().unwrap()
    }
}

fn demo() -> Compiled {
    compile(&Demo).unwrap()
}

fn text(book: &str) -> Compiled {
    compile(&Memory::new(&[("book.sline", book)], Demo.now())).unwrap()
}

fn pages(compiled: &Compiled) -> Vec<Page> {
    render(compiled, Options { parts: true, ..Options::default() }).unwrap()
}

fn page<'a>(pages: &'a [Page], name: &str) -> &'a Page {
    pages.iter().find(|page| page.name == name).unwrap_or_else(|| panic!("no page {name}"))
}
