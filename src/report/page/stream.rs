//! Makes every page, a car's year at a time, and hands each over in order.
//!
//! No more than one car's pages of one year are held at once. Must not know where pages go.

use super::press::{Failed, Press};
use super::table::{Row, Table};
use super::{Desk, SORTS};
use crate::book::model::{CarId, EventId};
use crate::report::teller::Teller;
use crate::report::view::figures::sheet::{self, Sheets};
use crate::report::{Options, Page};
use rayon::iter::{IntoParallelIterator, IntoParallelRefIterator, ParallelIterator};
use std::collections::BTreeSet;

/// Makes the pages of a table and gives each, or why it failed, to `sink`, in the table's order but for a car's years.
pub(in crate::report) fn stream(
    tell: &Teller<'_>,
    options: Options,
    table: &Table,
    press: &Press<'_>,
    sink: &mut dyn FnMut(Result<Page, Failed>),
) {
    for batch in batches(table) {
        let sheets = sheets(tell, &batch);
        let desk = Desk { tell, options, table, sheets: &sheets };
        let pages: Vec<_> = batch
            .par_iter()
            .filter_map(|row| (SORTS.get(row.sort)?.page)(press, &desk, row.listed.key, &row.file))
            .collect();
        pages.into_iter().for_each(&mut *sink);
    }
}

/// So many pages of no car are made together.
const MOST: usize = 32;

/// The book's pages sort by sort, then each car's pages year by year, those of no year last.
fn batches(table: &Table) -> Vec<Vec<&Row>> {
    let order = |row: &&Row| {
        let car = row.listed.key.car();
        let sort = if car.is_none() { row.sort } else { 0 };
        (car, sort, row.listed.year.is_none(), row.listed.year)
    };
    let mut rows: Vec<&Row> = table.rows().iter().collect();
    rows.sort_by_key(order);
    let mut batches: Vec<Vec<&Row>> = Vec::new();
    for row in rows {
        match batches.last_mut().filter(|batch| {
            let room = row.listed.key.car().is_some() || batch.len() < MOST;
            room && batch.last().is_some_and(|last| order(last) == order(&row))
        }) {
            Some(batch) => batch.push(row),
            None => batches.push(vec![row]),
        }
    }
    batches
}

/// The figures that a batch of pages asks for.
fn sheets(tell: &Teller<'_>, batch: &[&Row]) -> Sheets {
    let wanted: BTreeSet<(CarId, EventId)> = batch
        .iter()
        .filter_map(|row| Some((row.listed.key.car()?, row, SORTS.get(row.sort)?)))
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
