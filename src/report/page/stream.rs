//! Makes every page, a car's year at a time, and hands each over in order.
//!
//! No more than a few dozen pages of one car are held at once. Must not know where pages go.

use super::SORTS;
use super::press::{Failed, Press};
use crate::book::handed::PagePrint;
use crate::book::model::{CarId, EventId};
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::page::press::Page;
use crate::report::section::figures::sheet::{self, Sheets};
use crate::report::table::PageRow;
use crate::report::table::PageTable;
use crate::report::teller::Teller;
use rayon::iter::{IntoParallelIterator, IntoParallelRefIterator, ParallelIterator};
use std::collections::BTreeSet;

/// Makes the pages of a table and gives each, or why it failed, to `sink`, in the table's order but for a car's years.
pub(in crate::report) fn stream(
    tell: &Teller<'_>,
    options: Options,
    table: &PageTable,
    press: &Press<'_>,
    sink: &mut dyn FnMut(Result<Page, Failed>),
) {
    for batch in batches(table) {
        let sheets = sheets(tell, &batch);
        let desk = Desk { tell, options, table, sheets: &sheets };
        let page =
            |row: &&PageRow| (SORTS.get(row.sort.number)?.page)(press, &desk, row.listed.key, &row.file);
        if let [alone] = batch.as_slice() {
            page(alone).into_iter().for_each(&mut *sink);
            continue;
        }
        let pages: Vec<_> = batch.par_iter().filter_map(page).collect();
        pages.into_iter().for_each(&mut *sink);
    }
}

/// Makes one page of a table, by its file name; `None` where no page has it.
pub(in crate::report) fn one(
    tell: &Teller<'_>,
    options: Options,
    table: &PageTable,
    press: &Press<'_>,
    file: &str,
) -> Option<Result<Page, Failed>> {
    let row = table.rows().iter().find(|row| row.file == file)?;
    let sheets = sheets(tell, &[row]);
    let desk = Desk { tell, options, table, sheets: &sheets };
    (SORTS.get(row.sort.number)?.page)(press, &desk, row.listed.key, file)
}

/// The view of the first page, as JSON.
pub(in crate::report) fn json(tell: &Teller<'_>, options: Options, table: &PageTable) -> Option<String> {
    let row = table.rows().first()?;
    let sheets = sheets(tell, &[row]);
    let desk = Desk { tell, options, table, sheets: &sheets };
    (SORTS.get(row.sort.number)?.json)(&desk, row.listed.key)
}

/// The fingerprint of a page of a table.
pub(in crate::report) fn print(
    tell: &Teller<'_>,
    options: Options,
    table: &PageTable,
    key: Key,
) -> Option<PagePrint> {
    let row = table.rows().iter().find(|row| row.listed.key == key)?;
    let sheets = sheets(tell, &[row]);
    let desk = Desk { tell, options, table, sheets: &sheets };
    (SORTS.get(row.sort.number)?.print)(&desk, key)
}

/// The fingerprint of every page of a table, by its file name.
pub(in crate::report) fn prints(
    tell: &Teller<'_>,
    options: Options,
    table: &PageTable,
) -> Vec<(String, PagePrint)> {
    let mut all = Vec::new();
    for batch in batches(table) {
        let sheets = sheets(tell, &batch);
        let desk = Desk { tell, options, table, sheets: &sheets };
        let print = |row: &&PageRow| {
            let print = (SORTS.get(row.sort.number)?.print)(&desk, row.listed.key)?;
            Some((row.file.clone(), print))
        };
        all.extend(batch.par_iter().filter_map(print).collect::<Vec<_>>());
    }
    all
}

/// A batch is not made larger once it has so many pages: enough to keep all cores busy.
const ENOUGH: usize = 24;

/// The book's pages sort by sort, then each car's pages year by year, those of no year last; small years together.
fn batches(table: &PageTable) -> Vec<Vec<&PageRow>> {
    let order = |row: &&PageRow| {
        let car = row.listed.key.car();
        let sort = if car.is_none() { row.sort.number } else { 0 };
        (car, sort, row.listed.year.is_none(), row.listed.year)
    };
    let mut rows: Vec<&PageRow> = table.rows().iter().collect();
    rows.sort_by_key(order);
    let mut batches: Vec<Vec<&PageRow>> = Vec::new();
    for row in rows {
        let goes_in = |batch: &&mut Vec<&PageRow>| {
            let car = row.listed.key.car();
            let last = batch.last().filter(|last| last.listed.key.car() == car);
            // A car's figures are shared within a year; pages of no car share nothing, and are only held together.
            let whole = |last: &&PageRow| car.is_some() && order(last) == order(&row);
            last.is_some_and(|last| {
                let room = batch.len() < ENOUGH && !row.sort.large;
                whole(last) || room && (car.is_some() || last.sort == row.sort)
            })
        };
        match batches.last_mut().filter(goes_in) {
            Some(batch) => batch.push(row),
            None => batches.push(vec![row]),
        }
    }
    batches
}

/// The figures that a batch of pages asks for.
fn sheets(tell: &Teller<'_>, batch: &[&PageRow]) -> Sheets {
    let wanted: BTreeSet<(CarId, EventId)> = batch
        .iter()
        .filter_map(|row| Some((row.listed.key.car()?, row, SORTS.get(row.sort.number)?)))
        .flat_map(|(car, row, maker)| {
            (maker.events)(tell, row.listed.key).into_iter().map(move |event| (car, event))
        })
        .collect();
    let made: Vec<_> = wanted
        .into_par_iter()
        .filter_map(|(car, event)| Some(((car, event), sheet::sheet(tell, car, event)?)))
        .collect();
    made.into_iter().collect()
}
