//! The book as tables: what each column promises, that their totals are those of the answers, that no text of theirs is run, and that a
//! database of them is whole.

mod csv;
mod database;
mod folder;
mod full;
mod reader;
mod schema;
mod totals;

use jiff::Timestamp;
use stringline::source::Memory;
use stringline::tables::{Cell, FactTable, Shown, TABLES};
use stringline::{Compiled, compile};

/// A book of one ledger, in autumn 2025.
fn book(text: &str) -> Compiled {
    compile(&Memory::new(&[("book.sline", text)], Timestamp::constant(1_760_000_000, 0))).unwrap()
}

fn table(name: &str) -> &'static FactTable {
    TABLES.iter().find(|table| table.name == name).unwrap_or_else(|| panic!("no table {name}"))
}

/// The rows of a table.
fn rows(table: &FactTable, shown: &Shown<'_>) -> Vec<Vec<Cell<'static>>> {
    let mut rows = Vec::new();
    let own = |cell: &Cell<'_>| match cell {
        Cell::Nothing => Cell::Nothing,
        Cell::Text(text) => Cell::Text(text.clone().into_owned().into()),
        Cell::Whole(number) => Cell::Whole(*number),
        Cell::Real(number) => Cell::Real(*number),
    };
    (table.rows)(shown, &mut |cells| rows.push(cells.iter().map(own).collect()));
    rows
}

/// What a column of a table holds, row by row, as texts; empty for nothing.
fn column(name: &str, column: &str, shown: &Shown<'_>) -> Vec<String> {
    let table = table(name);
    let at =
        table.columns.iter().position(|one| one.name == column).unwrap_or_else(|| panic!("{name}.{column}"));
    rows(table, shown).iter().map(|row| word(&row[at])).collect()
}

fn word(cell: &Cell<'_>) -> String {
    match cell {
        Cell::Nothing => String::new(),
        Cell::Text(text) => text.to_string(),
        Cell::Whole(number) => number.to_string(),
        Cell::Real(number) => stringline::tables::csv::real(*number),
    }
}
