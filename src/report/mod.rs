//! The HTML reports: a compiled book in, a list of self-contained pages out.
//!
//! [`render`] needs neither disk nor clock; writing the pages is the command's business. The views in [`view`] are plain
//! data with every number already a text; the templates only loop and branch. Must not know how lines are read.

pub mod chart;
pub mod markdown;
mod names;
mod pages;
mod sources;
mod teller;
pub mod view;
mod words;

use crate::Compiled;
use crate::book::model::{CarId, EventId};
use names::Names;
use rayon::iter::{IntoParallelIterator, ParallelIterator};
use std::collections::BTreeSet;
use teller::Teller;

/// The page of the rate book.
pub(crate) const BENCH: &str = "bench.html";

/// What to write.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Options {
    /// Only this car.
    pub car: Option<CarId>,
    /// Only this year.
    pub season: Option<i16>,
}

/// One page: a file name and its HTML.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Page {
    /// File name, safe on every system.
    pub name: String,
    /// What it is, in a few words.
    pub title: String,
    /// The whole document.
    pub html: String,
}

/// Makes every page: `index.html` first, then each car's seasons, the differences between its events, and the rate book.
///
/// # Errors
/// When a template does not fit its view; a mistake of ours, never of the book.
pub fn render(compiled: &Compiled, options: Options) -> Result<Vec<Page>, String> {
    let tell = Teller::new(compiled);
    let mut names = Names::default();
    let mut seasons = Vec::new();
    let mut diffs = Vec::new();
    for index in 0..compiled.book.cars.len() as u32 {
        let car = CarId(index);
        let withheld = compiled.book.cars.get(index as usize).is_some_and(|car| car.withheld);
        if withheld || options.car.is_some_and(|only| only != car) {
            continue;
        }
        let years = view::season::years(&tell, car);
        let years = years.into_iter().filter(|year| options.season.is_none_or(|only| only == *year));
        for year in years {
            let name = names.page(&[tell.cx.car(car), &year.to_string()]);
            seasons.push((car, year, name));
        }
        for pair in view::diff::pairs(&tell, car, options.season) {
            let name = names.page(&[tell.cx.car(car), tell.event(pair.0), tell.event(pair.1)]);
            diffs.push((car, pair, name));
        }
    }
    let events = seasons.iter().flat_map(|(car, ..)| view::season::events(&tell, *car));
    let both = diffs.iter().flat_map(|(car, pair, _)| [(*car, pair.0), (*car, pair.1)]);
    let wanted: BTreeSet<(CarId, EventId)> = events.chain(both).collect();
    let sheets: Vec<_> = wanted
        .into_par_iter()
        .filter_map(|(car, event)| Some(((car, event), view::figures::sheet::sheet(&tell, car, event)?)))
        .collect();
    let sheets: view::figures::sheet::Sheets = sheets.into_iter().collect();
    // The rate book is the shop's, whichever car a part is on.
    let bench = if options == Options::default() { view::bench::view(&tell) } else { None };
    let engine = pages::Engine::new()?;
    let mut pages = Vec::with_capacity(2 + seasons.len() + diffs.len());
    let index = view::index::view(&tell, options, &seasons, &diffs, bench.is_some());
    pages.push(engine.page("index.html", "index.html", &index.frame.title.clone(), &index)?);
    for (car, year, name) in &seasons {
        let view = view::season::view(&tell, *car, *year, &diffs, &sheets);
        pages.push(engine.page("season.html", name, &view.frame.title.clone(), &view)?);
    }
    for (car, pair, name) in &diffs {
        let view = view::diff::view(&tell, *car, *pair, &seasons, &sheets);
        pages.push(engine.page("diff.html", name, &view.frame.title.clone(), &view)?);
    }
    if let Some(view) = &bench {
        pages.push(engine.page("bench.html", BENCH, &view.frame.title.clone(), view)?);
    }
    Ok(pages)
}
