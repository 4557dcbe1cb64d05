//! Puts pages into a folder, one by one, and gathers what could not be: one message for each cause.
//!
//! Must not know what is on a page.

use crate::report::Page;
use crate::report::{Failed, Fault};
use crate::source::{reason, shown};
use std::collections::BTreeMap;
use std::io;
use std::path::Path;

/// A page that is in the folder.
#[derive(Debug, serde::Serialize)]
pub(super) struct Placed {
    /// File name.
    pub file: String,
    /// What it is.
    pub title: String,
}

/// What became of the pages.
#[derive(Debug, Default)]
pub(super) struct Pages {
    /// Those in the folder, in order.
    pub placed: Vec<Placed>,
    /// How many of them were not there before, or were otherwise.
    pub written: usize,
    /// The templates' faults, and which pages each has cost.
    faults: BTreeMap<Fault, Vec<String>>,
    /// The disk's reasons, and which pages each has cost.
    reasons: BTreeMap<String, Vec<String>>,
}

impl Pages {
    /// Has a page put where it goes.
    pub fn take(&mut self, page: Result<Page, Failed>, put: impl FnOnce(&Page) -> io::Result<bool>) {
        match page {
            Ok(page) => match put(&page) {
                Ok(new) => {
                    self.written += usize::from(new);
                    self.placed.push(Placed { file: page.name, title: page.title });
                }
                Err(error) => self.reasons.entry(reason(&error)).or_default().push(page.name),
            },
            Err(failed) => self.faults.entry(failed.fault).or_default().push(failed.page),
        }
    }

    /// What could not be, a message for each cause. `own` tells where a template of that name is, if it is the shop's.
    pub fn troubles(&self, folder: &Path, own: impl Fn(&str) -> Option<String>) -> Vec<String> {
        let faults = self.faults.iter().map(|(fault, pages)| {
            let place =
                own(&fault.template).unwrap_or_else(|| format!("built-in template {}", fault.template));
            format!("{}; without it there is no {}", fault.told(&place), named(pages))
        });
        let reasons = self.reasons.iter().map(|(reason, pages)| {
            format!("cannot write into {}: {reason}; missing or as before: {}", shown(folder), named(pages))
        });
        faults.chain(reasons).collect()
    }
}

/// The first names of a list, and how many more.
pub(super) fn named(pages: &[String]) -> String {
    const MOST: usize = 3;
    match pages.get(MOST..) {
        Some([_, ..]) => {
            format!("{} and {} more", pages.get(..MOST).unwrap_or(pages).join(", "), pages.len() - MOST)
        }
        _ => pages.join(", "),
    }
}
