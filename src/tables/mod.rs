//! The book as tables: rows of plain cells, one file a table, for spreadsheets and databases.
//!
//! What a table has is data ([`schema`]): the heads of the CSV files, the tables of the database and the page about both are made from it.
//! Every number is the same that an answer has. What a reader may not have is not in his book before a table sees it; a thing that is not
//! his has no row. Must not know pages, the terminal or the disk.

mod book;
mod cars;
mod cell;
pub mod csv;
mod figures;
mod jobs;
mod lives;
mod money;
mod page;
mod parts;
mod people;
mod readings;
mod rules;
mod schema;
mod sessions;
mod settings;
mod shown;
pub mod sql;
mod stays;

pub use book::VERSION;
pub use cell::Cell;
pub use page::page;
pub use schema::{Column, FactTable, Give, Refers, Sort, SqlView};
pub use shown::Shown;

/// Every table; what a table refers to stands before it, or is itself.
pub static TABLES: [FactTable; 26] = [
    book::TABLE,
    people::CLIENTS,
    people::PEOPLE,
    people::GAUGES,
    cars::CIRCUITS,
    cars::EVENTS,
    cars::CARS,
    cars::ENTERED,
    parts::KINDS,
    parts::SPECS,
    parts::PARTS,
    sessions::SESSIONS,
    sessions::STINTS,
    sessions::LAPS,
    settings::TABLE,
    readings::TABLE,
    stays::TABLE,
    lives::TABLE,
    lives::FAILURES,
    jobs::TABLE,
    jobs::PROMISES,
    money::POSTINGS,
    money::PAYMENTS,
    rules::TABLE,
    rules::VERDICTS,
    figures::TABLE,
];
