//! Fills the table of all pages: each sort lists its own.
//!
//! Must not know what stands on a page.

use super::SORTS;
use crate::book::model::CarId;
use crate::report::desk::Options;
use crate::report::key::Listed;
use crate::report::names::Names;
use crate::report::table::PageTable;
use crate::report::teller::Teller;

/// Lists every page that is asked for: those of the book, then car by car.
pub(in crate::report) fn all(tell: &Teller<'_>, options: Options) -> PageTable {
    let cars = tell.cx.book.cars.keys();
    let withheld = |car: &CarId| tell.cx.book.cars.get(*car).is_some_and(|car| car.withheld);
    let cars = cars.filter(|car| options.car.is_none_or(|only| only == *car) && !withheld(car));
    let mut names = Names::default();
    let mut table = PageTable::default();
    for whose in std::iter::once(None).chain(cars.map(Some)) {
        for (number, maker) in SORTS.iter().enumerate() {
            let list = match whose {
                None => (maker.of_book)(tell, options),
                Some(car) => (maker.of_car)(tell, options, car),
            };
            for mut listed in list {
                // A book of many years has tens of thousands of pages: what only the name is made of is not kept.
                let file = names.page(&std::mem::take(&mut listed.name));
                table.add(maker.sort(number), listed, file);
            }
        }
    }
    table
}

/// One page alone, of the sort that has that template; nothing where there is none.
pub(in crate::report) fn only(template: &str, listed: Listed) -> PageTable {
    let mut table = PageTable::default();
    let file = Names::default().page(&listed.name);
    if let Some((number, maker)) = SORTS.iter().enumerate().find(|(_, maker)| maker.template == template) {
        table.add(maker.sort(number), listed, file);
    }
    table
}
