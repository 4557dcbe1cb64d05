//! The columns are data in one place: the page is made from them, and every row of every book keeps what they promise.

use super::{Cell, rows};
use crate::demo::DEMO;
use crate::generated::book::{Knobs, seeded};
use crate::generated::holds::compiled;
use crate::generated::hunt::books;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use stringline::Compiled;
use stringline::audience::{self, Reader};
use stringline::book::model::ClientId;
use stringline::tables::{Shown, Sort, TABLES, page};
use stringline::units::{DimensionId, si, table};

#[test]
fn the_tables_page_says_what_the_tables_are() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/tables.md");
    let made = page(&TABLES);
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(&path, &made).unwrap();
    }
    let committed = std::fs::read_to_string(&path).unwrap_or_default().replace("\r\n", "\n");
    assert!(committed == made, "grammar/tables.md is stale: UPDATE=1 cargo test --test all tables_page");
}

#[test]
fn names_are_plain_and_what_is_referred_to_is_there() {
    let mut before: BTreeMap<&str, &[&str]> = BTreeMap::new();
    for table in &TABLES {
        let plain = |name: &str| name.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'_');
        let names: BTreeSet<&str> = table.columns.iter().map(|column| column.name).collect();
        assert_eq!(names.len(), table.columns.len(), "{}", table.name);
        assert!(plain(table.name) && names.iter().all(|name| plain(name)), "{}", table.name);
        assert!(before.insert(table.name, table.key).is_none(), "{} stands twice", table.name);
        assert!(table.key.iter().all(|key| table.columns.iter().any(|one| one.name == *key && one.needed)));
        for refers in table.refers {
            let key = before.get(refers.table).unwrap_or_else(|| panic!("{}: {}", table.name, refers.table));
            assert_eq!(key.len(), refers.columns.len(), "{} {:?}", table.name, refers.columns);
            assert!(
                !key.is_empty() && refers.columns.iter().all(|one| names.contains(one)),
                "{}",
                table.name
            );
        }
        let stands = ["file", "line"].iter().all(|one| names.contains(one)) || names.contains("lines");
        assert!(stands || table.name == "book", "{}: where do its rows stand?", table.name);
    }
}

/// Every kind of quantity that is a number of one sort is counted in something; where the unit table has that symbol among the kind's
/// units, it is worth one.
#[test]
fn every_kind_has_a_unit_of_factor_one() {
    for kind in DimensionId::all().filter(|kind| !kind.get().is_text() && kind.name() != "use") {
        assert!(!si(kind).is_empty(), "{}", kind.name());
        if let Some(unit) = table().find_one(si(kind), kind) {
            assert_eq!((unit.get().to_si(1.0), unit.get().to_si(0.0)), (1.0, 0.0), "{}", kind.name());
        }
    }
    for (kind, symbol) in
        [("pressure", "Pa"), ("toe", "rad"), ("weight", "N"), ("stiffness", "N/m"), ("fluid", "m3")]
    {
        assert_eq!(si(DimensionId::by_name(kind).unwrap()), symbol);
    }
}

/// What the columns promise of every row.
pub fn keeps_its_promises(compiled: &Compiled, reader: Option<&str>) {
    let shown = Shown::new(compiled, reader);
    let mut keys: BTreeMap<&str, BTreeSet<Vec<String>>> = BTreeMap::new();
    let mut asked: Vec<(&str, &str, BTreeSet<Vec<String>>)> = Vec::new();
    for table in &TABLES {
        let at = |name: &str| table.columns.iter().position(|one| one.name == name).unwrap();
        let all = rows(table, &shown);
        for row in &all {
            assert_eq!(row.len(), table.columns.len(), "{}", table.name);
            for (cell, column) in row.iter().zip(table.columns) {
                let fits = match (cell, column.sort) {
                    (Cell::Nothing, _) => !column.needed,
                    (Cell::Text(text), Sort::Text) => !text.trim().is_empty() && !text.contains(['\0', '\r']),
                    (Cell::Text(text), Sort::Date) => text.parse::<jiff::civil::Date>().is_ok(),
                    (Cell::Text(text), Sort::Exact) => text.parse::<rust_decimal::Decimal>().is_ok(),
                    (Cell::Whole(number), Sort::Truth) => [0, 1].contains(number),
                    (Cell::Whole(_), Sort::Whole) => true,
                    (Cell::Real(number), Sort::Real) => number.is_finite(),
                    _ => false,
                };
                assert!(fits, "{}.{}: {cell:?}", table.name, column.name);
            }
        }
        let words = |row: &[Cell<'_>], names: &[&str]| -> Option<Vec<String>> {
            let cells: Vec<&Cell<'_>> = names.iter().map(|name| &row[at(name)]).collect();
            let there = cells.iter().all(|cell| !cell.is_nothing());
            there.then(|| cells.into_iter().map(super::word).collect())
        };
        if !table.key.is_empty() {
            let own: Vec<Vec<String>> = all.iter().filter_map(|row| words(row, table.key)).collect();
            let apart: BTreeSet<Vec<String>> = own.iter().cloned().collect();
            assert_eq!((own.len(), apart.len()), (all.len(), all.len()), "{}", table.name);
            keys.insert(table.name, apart);
        }
        for refers in table.refers {
            let named = all.iter().filter_map(|row| words(row, refers.columns)).collect();
            asked.push((table.name, refers.table, named));
        }
    }
    for (from, to, named) in asked {
        let lost: Vec<_> = named.difference(&keys[to]).collect();
        assert!(lost.is_empty(), "{from} names of {to} what has no row: {lost:?}");
    }
}

#[test]
fn every_row_of_the_demo_keeps_its_promises() {
    keeps_its_promises(&DEMO, None);
    for client in DEMO.book.clients.keys() {
        let name = DEMO.book.clients[client].named.typed.to_string();
        keeps_its_promises(&audience::cut(&DEMO, &Reader::Client(client)), Some(&name));
    }
}

#[test]
fn every_row_of_any_book_keeps_its_promises() {
    for seed in 0..books(6, 300) {
        let knobs =
            Knobs { slips: if seed % 2 == 1 { 8 } else { 0 }, resale: seed % 3 == 2, ..Knobs::default() };
        let book = compiled(&seeded(seed, 900, knobs).files());
        keeps_its_promises(&book, None);
        keeps_its_promises(&audience::cut(&book, &Reader::Client(ClientId::new(1))), Some("x"));
    }
}
