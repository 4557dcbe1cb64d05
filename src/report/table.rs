//! The one table of all pages: file names and links.
//!
//! Made before the first page, so that any page can link to any other. Must not know what stands on a page, nor which sorts there are.

use crate::book::model::CarId;
use crate::report::key::Key;
use crate::report::key::Listed;
use crate::report::section::link::{Link, LinkGroup};
use std::collections::BTreeMap;

/// What there is to know of a sort of page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::report) struct PageSort {
    /// Its number in the order of the first page's links.
    pub number: usize,
    /// What stands over the links to its pages on the first page; empty where the link says it all.
    pub heading: &'static str,
    /// Whether the first page links to each of its pages.
    pub listed: bool,
    /// Whether one of its pages may tell of the whole book.
    pub large: bool,
}

/// A page with its file name.
#[derive(Debug)]
pub(in crate::report) struct PageRow {
    /// Of which sort it is.
    pub sort: PageSort,
    /// As its sort lists it.
    pub listed: Listed,
    /// File name.
    pub file: String,
}

/// All pages: those of the book, then car by car.
#[derive(Debug, Default)]
pub(in crate::report) struct PageTable {
    rows: Vec<PageRow>,
    at: BTreeMap<Key, usize>,
}

impl PageTable {
    /// Takes one more page in, under that file name.
    pub fn add(&mut self, sort: PageSort, listed: Listed, file: String) {
        self.at.insert(listed.key, self.rows.len());
        self.rows.push(PageRow { sort, listed, file });
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
            |sort: PageSort| of().filter(|row| row.sort == sort).filter_map(|row| row.listed.year).max();
        grouped(of().filter(|row| {
            row.sort.listed && (row.sort.heading.is_empty() || row.listed.year == latest(row.sort))
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
    let mut groups: Vec<(PageSort, LinkGroup)> = Vec::new();
    for row in rows {
        if groups.last().is_none_or(|(sort, _)| *sort != row.sort) {
            let heading = row.sort.heading.to_owned();
            groups.push((row.sort, LinkGroup { heading, links: Vec::new() }));
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
