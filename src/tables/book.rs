//! The book itself: one row.

use super::cell::Cell;
use super::schema::{Column, FactTable, Give};
use super::shown::Shown;
use crate::diagnostics::Severity;

/// Which shape the tables have. It goes up when a column leaves or comes to mean something else.
pub const VERSION: u32 = 1;

/// The table.
pub const TABLE: FactTable = FactTable {
    name: "book",
    what: "The book: one row.",
    key: &[],
    columns: &[
        Column::text("shop", "The shop's title"),
        Column::text("reader", "The client named after `--for`; empty for the shop's own tables"),
        Column::text("currency", "The currency that sums are exchanged into, ISO 4217"),
        Column::text("zone", "The time zone of its clocks"),
        Column::date("at", "The day after `--at`: nothing later is in the tables"),
        Column::whole("errors", "How many errors `check` finds; what they touch is empty in the tables. Of a reader's tables: how many lines about his cars cannot be read")
            .needed(),
        Column::whole("warnings", "How many warnings; empty in a reader's tables"),
        Column::whole("notes", "How many notes; empty in a reader's tables"),
        Column::whole(
            "version",
            "The shape of the tables; it goes up when a column leaves or comes to mean something else",
        )
        .needed(),
    ],
    refers: &[],
    rows,
};

fn rows(shown: &Shown<'_>, give: &mut Give<'_>) {
    let compiled = shown.compiled;
    let shop = &compiled.book.shop;
    let count = |severity| {
        if shown.is_cut() { Cell::Nothing } else { Cell::from(compiled.count(severity) as i64) }
    };
    let unread = shown.is_cut().then(|| Cell::from(compiled.unread.values().sum::<usize>() as i64));
    give(&[
        Cell::from(&shop.title),
        Cell::from(shown.reader.as_deref()),
        Cell::from(shop.currency.map(crate::money::Currency::code)),
        Cell::from(shop.zone.as_deref()),
        Cell::from(compiled.at),
        unread.unwrap_or_else(|| count(Severity::Error)),
        count(Severity::Warning),
        count(Severity::Note),
        Cell::from(VERSION),
    ]);
}
