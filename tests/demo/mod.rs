//! The demo book `ledgers/2026` against the invented season's own tables, typed here as literals.
//!
//! The numbers were worked out when the season was invented, apart from this program.

mod coupling_lives;
mod gauges;
mod jobs;
mod lives;
mod money;
mod rules;
mod safety;
mod sale;
mod use_table;
mod whole;

use std::path::Path;
use std::sync::LazyLock;
use stringline::Compiled;
use stringline::book::model::{CarId, EventId, PartId};
use stringline::book::names::Thing;
use stringline::source::{Disk, Memory, World};

/// The demo book, compiled once as on 2026-12-01.
pub static DEMO: LazyLock<Compiled> = LazyLock::new(|| {
    let disk = Disk { root: Path::new(env!("CARGO_MANIFEST_DIR")).join("ledgers/2026") };
    let (files, troubles) = disk.load().unwrap();
    assert!(troubles.is_empty());
    let texts: Vec<(&str, &str)> =
        files.iter().map(|(_, file)| (file.path.as_str(), file.text.as_str())).collect();
    stringline::compile(&Memory::new(&texts, crate::checks::now())).unwrap()
});

pub fn car(name: &str) -> CarId {
    match DEMO.book.names.find(name) {
        Some(Thing::Car(id)) => id,
        other => panic!("{name}: {other:?}"),
    }
}

pub fn event(name: &str) -> EventId {
    match DEMO.book.names.find(name) {
        Some(Thing::Event(id)) => id,
        other => panic!("{name}: {other:?}"),
    }
}

pub fn part(name: &str) -> PartId {
    match DEMO.book.names.find(name) {
        Some(Thing::Part(id)) => id,
        other => panic!("{name}: {other:?}"),
    }
}
