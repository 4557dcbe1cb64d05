//! What a table is: its columns as data, from which the heads of the CSV files, the tables of the database and the page about them are made.
//!
//! Must not know any table, nor how one is written.

use super::cell::Cell;
use super::shown::Shown;

/// What stands in a column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sort {
    /// Words.
    Text,
    /// A day, `YYYY-MM-DD`.
    Date,
    /// A decimal number that is kept digit by digit: money and hours.
    Exact,
    /// A whole number.
    Whole,
    /// A number, as a binary fraction of 64 bits.
    Real,
    /// 1 for yes, 0 for no.
    Truth,
}

impl Sort {
    /// What the page calls it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Text => "text",
            Self::Date => "date",
            Self::Exact => "exact decimal",
            Self::Whole => "whole number",
            Self::Real => "number",
            Self::Truth => "1 or 0",
        }
    }

    /// Its type in a database of strict tables.
    #[must_use]
    pub const fn sql(self) -> &'static str {
        match self {
            Self::Text | Self::Date | Self::Exact => "TEXT",
            Self::Whole | Self::Truth => "INTEGER",
            Self::Real => "REAL",
        }
    }
}

/// A column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Column {
    /// Its name.
    pub name: &'static str,
    /// What stands in it.
    pub sort: Sort,
    /// The unit of its numbers; empty for none.
    pub unit: &'static str,
    /// What it says.
    pub what: &'static str,
    /// Whether every row has it.
    pub needed: bool,
}

impl Column {
    /// A column that may be empty.
    #[must_use]
    pub const fn new(name: &'static str, sort: Sort, what: &'static str) -> Self {
        Self { name, sort, unit: "", what, needed: false }
    }

    /// Words.
    #[must_use]
    pub const fn text(name: &'static str, what: &'static str) -> Self {
        Self::new(name, Sort::Text, what)
    }

    /// A number in a unit.
    #[must_use]
    pub const fn real(name: &'static str, unit: &'static str, what: &'static str) -> Self {
        Self { unit, ..Self::new(name, Sort::Real, what) }
    }

    /// A whole number.
    #[must_use]
    pub const fn whole(name: &'static str, what: &'static str) -> Self {
        Self::new(name, Sort::Whole, what)
    }

    /// A day.
    #[must_use]
    pub const fn date(name: &'static str, what: &'static str) -> Self {
        Self::new(name, Sort::Date, what)
    }

    /// Yes or no.
    #[must_use]
    pub const fn truth(name: &'static str, what: &'static str) -> Self {
        Self { needed: true, ..Self::new(name, Sort::Truth, what) }
    }

    /// The same in every row.
    #[must_use]
    pub const fn needed(self) -> Self {
        Self { needed: true, ..self }
    }
}

/// The ledger that a row stands in.
pub const FILE: Column = Column::text(
    "file",
    "The ledger, below the book's folder; empty for a line that the reader may not read",
);
/// The line of it.
pub const LINE: Column = Column::whole("line", "The line of that ledger, from 1");

/// Columns of one table that name a row of another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Refers {
    /// The columns, in the order of the other table's key.
    pub columns: &'static [&'static str],
    /// The other table.
    pub table: &'static str,
}

/// Takes the rows of a table, one after the other.
pub type Give<'g> = dyn FnMut(&[Cell<'_>]) + 'g;

/// A table.
#[derive(Debug, Clone, Copy)]
pub struct FactTable {
    /// Its name.
    pub name: &'static str,
    /// What a row is.
    pub what: &'static str,
    /// The columns that tell its rows apart; none where nothing refers to them.
    pub key: &'static [&'static str],
    /// Its columns, in order.
    pub columns: &'static [Column],
    /// What its columns name.
    pub refers: &'static [Refers],
    /// Gives its rows, in the order of the book.
    pub rows: fn(&Shown<'_>, &mut Give<'_>),
}

/// A question that is asked so often that the database has it as a view.
#[derive(Debug, Clone, Copy)]
pub struct SqlView {
    /// Its name.
    pub name: &'static str,
    /// What it says.
    pub what: &'static str,
    /// What it selects.
    pub sql: &'static str,
}

/// Columns that name a row of another table by one column.
#[must_use]
pub const fn refers(columns: &'static [&'static str], table: &'static str) -> Refers {
    Refers { columns, table }
}
