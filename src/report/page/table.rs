//! The one table of all pages: file names and links.
//!
//! Made before the first page, so that any page can link to any other. Must not know what stands on a page.

use super::{Key, Listed, SORTS};
use crate::book::model::CarId;
use crate::report::Options;
use crate::report::names::Names;
use crate::report::section::link::{Link, LinkGroup};
use crate::report::teller::Teller;
use std::collections::BTreeMap;

/// A page with its file name.
#[derive(Debug)]
pub(in crate::report) struct PageRow {
    /// Which of [`SORTS`].
    pub sort: usize,
    /// As its sort lists it.
    pub listed: Listed,
    /// File name.
    pub file: String,
}

/// All pages: those of the book, then car by car.
#[derive(Debug)]
pub(in crate::report) struct PageTable {
    rows: Vec<PageRow>,
    at: BTreeMap<Key, usize>,
}

impl PageTable {
    /// Lists every page that is asked for.
    pub fn new(tell: &Teller<'_>, options: Options) -> Self {
        let cars = tell.cx.book.cars.keys();
        let withheld = |car: &CarId| tell.cx.book.cars.get(*car).is_some_and(|car| car.withheld);
        let cars = cars.filter(|car| options.car.is_none_or(|only| only == *car) && !withheld(car));
        let mut names = Names::default();
        let mut table = Self { rows: Vec::new(), at: BTreeMap::new() };
        for whose in std::iter::once(None).chain(cars.map(Some)) {
            for (sort, maker) in SORTS.iter().enumerate() {
                let list = match whose {
                    None => (maker.of_book)(tell, options),
                    Some(car) => (maker.of_car)(tell, options, car),
                };
                for mut listed in list {
                    // A book of many years has tens of thousands of pages: what only the name is made of is not kept.
                    let file = names.page(&std::mem::take(&mut listed.name));
                    table.at.insert(listed.key, table.rows.len());
                    table.rows.push(PageRow { sort, listed, file });
                }
            }
        }
        table
    }

    /// One page alone, of the sort that has that template.
    pub fn only(template: &str, listed: Listed) -> Self {
        let sort = SORTS.iter().position(|maker| maker.template == template).unwrap_or(SORTS.len());
        let file = Names::default().page(&listed.name);
        Self { at: BTreeMap::from([(listed.key, 0)]), rows: vec![PageRow { sort, listed, file }] }
    }

    /// Every page, those of the book first.
    pub fn rows(&self) -> &[PageRow] {
        &self.rows
    }

    /// A link to a page, if it will be written.
    pub fn link(&self, key: Key) -> Option<Link> {
        self.rows.get(*self.at.get(&key)?).map(link)
    }

    /// Links from the first page to the pages of a car, or of the book, sort by sort: of those with a heading over them only
    /// the latest year's, for the season's own page links to the others.
    pub fn groups(&self, car: Option<CarId>) -> Vec<LinkGroup> {
        let of = || self.rows.iter().filter(|row| row.listed.key.car() == car);
        let latest =
            |sort: usize| of().filter(|row| row.sort == sort).filter_map(|row| row.listed.year).max();
        grouped(of().filter(|row| {
            let all = SORTS.get(row.sort).is_none_or(|maker| maker.heading.is_empty());
            let linked = SORTS.get(row.sort).is_some_and(|maker| maker.listed);
            linked && (all || row.listed.year == latest(row.sort))
        }))
    }

    /// Links from a car's season to its other pages of that year, sort by sort.
    pub fn of_year(&self, car: CarId, year: i16) -> Vec<LinkGroup> {
        let from = self.rows.partition_point(|row| row.listed.key.car() < Some(car));
        let rows = self.rows.get(from..).unwrap_or_default().iter();
        let rows = rows.take_while(|row| row.listed.key.car() == Some(car));
        let season = |row: &&PageRow| matches!(row.listed.key, Key::Season(..));
        grouped(rows.filter(|row| row.listed.year == Some(year) && !season(row)))
    }
}

/// Rows that follow each other by sort, as links.
fn grouped<'a>(rows: impl Iterator<Item = &'a PageRow>) -> Vec<LinkGroup> {
    let mut groups: Vec<(usize, LinkGroup)> = Vec::new();
    for row in rows {
        if groups.last().is_none_or(|(sort, _)| *sort != row.sort) {
            let heading = SORTS.get(row.sort).map_or("", |maker| maker.heading);
            groups.push((row.sort, LinkGroup { heading: heading.to_owned(), links: Vec::new() }));
        }
        if let Some((_, group)) = groups.last_mut() {
            group.links.push(link(row));
        }
    }
    groups.into_iter().map(|(_, group)| group).collect()
}

fn link(row: &PageRow) -> Link {
    Link { href: row.file.clone(), text: row.listed.text.clone(), remark: row.listed.remark.to_owned() }
}
