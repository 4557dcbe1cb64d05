//! The one table of all pages: file names and links.
//!
//! Made before the first page, so that any page can link to any other. Must not know what stands on a page.

use super::{Key, Listed, SORTS};
use crate::book::model::CarId;
use crate::report::Options;
use crate::report::names::Names;
use crate::report::teller::Teller;
use crate::report::view::link::{Group, Link};
use std::collections::BTreeMap;

/// A page with its file name.
#[derive(Debug)]
pub(in crate::report) struct Row {
    /// Which of [`SORTS`].
    pub sort: usize,
    /// As its sort lists it.
    pub listed: Listed,
    /// File name.
    pub file: String,
}

/// All pages: those of the book, then car by car.
#[derive(Debug)]
pub(in crate::report) struct Table {
    rows: Vec<Row>,
    at: BTreeMap<Key, usize>,
}

impl Table {
    /// Lists every page that is asked for.
    pub fn new(tell: &Teller<'_>, options: Options) -> Self {
        let cars = (0..tell.cx.book.cars.len() as u32).map(CarId);
        let cars = cars.filter(|car| options.car.is_none_or(|only| only == *car));
        let mut names = Names::default();
        let mut table = Self { rows: Vec::new(), at: BTreeMap::new() };
        for whose in std::iter::once(None).chain(cars.map(Some)) {
            for (sort, maker) in SORTS.iter().enumerate() {
                let list = match whose {
                    None => (maker.of_book)(tell, options),
                    Some(car) => (maker.of_car)(tell, options, car),
                };
                for listed in list {
                    let file = names.page(&listed.name);
                    table.at.insert(listed.key, table.rows.len());
                    table.rows.push(Row { sort, listed, file });
                }
            }
        }
        table
    }

    /// Every page, those of the book first.
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    /// A link to a page, if it will be written.
    pub fn link(&self, key: Key) -> Option<Link> {
        self.rows.get(*self.at.get(&key)?).map(link)
    }

    /// Links to the pages of a car, or of the book without its first page, sort by sort.
    pub fn groups(&self, car: Option<CarId>) -> Vec<Group> {
        let mut groups: Vec<(usize, Group)> = Vec::new();
        let rows = self.rows.iter().filter(|row| row.listed.key.car() == car);
        let listed = |row: &&Row| SORTS.get(row.sort).is_some_and(|maker| maker.listed);
        for row in rows.filter(listed) {
            if groups.last().is_none_or(|(sort, _)| *sort != row.sort) {
                let heading = SORTS.get(row.sort).map_or("", |maker| maker.heading);
                groups.push((row.sort, Group { heading: heading.to_owned(), links: Vec::new() }));
            }
            if let Some((_, group)) = groups.last_mut() {
                group.links.push(link(row));
            }
        }
        groups.into_iter().map(|(_, group)| group).collect()
    }
}

fn link(row: &Row) -> Link {
    Link { href: row.file.clone(), text: row.listed.text.clone(), remark: row.listed.remark.to_owned() }
}
