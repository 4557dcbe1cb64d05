//! The HTML reports: a compiled book in, a stream of self-contained pages out.
//!
//! [`Report`] needs neither disk nor clock; writing the pages is the command's business. What stands on them, in [`section`], is
//! plain data with every number already a text; the templates only loop and branch; [`page`] says which pages there are. Must
//! not know how lines are read.

mod alone;
pub mod chart;
mod desk;
mod handed;
mod key;
pub mod markdown;
pub mod markup;
mod names;
mod page;
pub mod section;
mod shape;
mod sources;
pub mod style;
mod table;
mod teller;
mod travels;
pub mod typeset;
mod words;

use crate::Compiled;
use crate::audience::Purchase;
use crate::book::handed::PagePrint;
use crate::book::model::CarId;
use crate::report::table::PageTable;
use page::press::Press;
use teller::Teller;

pub use alone::{Alone, NoPage};
pub use desk::Options;
pub use handed::{HandedOut, Reads, Unmade, handed_out};
pub use page::press::{Failed, Fault, Own, Page};

/// The names of the templates that a shop may have its own of.
pub fn template_names() -> impl Iterator<Item = &'static str> {
    page::press::TEMPLATES.iter().map(|(name, _)| *name)
}

/// The templates that make pages, one for each sort of page.
pub fn page_templates() -> impl Iterator<Item = &'static str> {
    page::SORTS.iter().map(|maker| maker.template).chain(std::iter::once(page::handover::TEMPLATE))
}

/// The shape of the view behind each page's template: the template's name, and a JSON Schema (draft 2020-12).
#[cfg(feature = "schema")]
pub fn schemas() -> impl Iterator<Item = (&'static str, schemars::Schema)> {
    let alone = std::iter::once((page::handover::TEMPLATE, shape::of::<section::handover::Handover>()));
    page::SORTS.iter().map(|maker| (maker.template, (maker.schema)())).chain(alone)
}

/// The book that goes with a car to its buyer, from the book cut for him ([`crate::audience::cut`]).
#[must_use]
pub fn handover(cut: &Compiled, purchase: &Purchase) -> section::handover::Handover {
    page::handover::view(&Teller::new(cut), purchase)
}

/// The same as one page, under a file name.
///
/// # Errors
/// When a template of the shop's own does not fit its view.
pub fn handover_page(view: &section::handover::Handover, file: &str, own: &Own) -> Result<Page, Failed> {
    Press::new(own).page(page::handover::TEMPLATE, file, view.frame.title.clone(), view)
}

/// The report of a book: which pages it has, before any is made.
pub struct Report<'a> {
    tell: Teller<'a>,
    options: Options,
    table: PageTable,
    press: Press<'a>,
}

impl std::fmt::Debug for Report<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Report").field("options", &self.options).finish_non_exhaustive()
    }
}

impl<'a> Report<'a> {
    /// Lists the pages of a book, to be made with a shop's own templates in the place of ours.
    #[must_use]
    pub fn new(compiled: &'a Compiled, options: Options, own: &'a Own) -> Self {
        let tell = Teller::new(compiled);
        let table = page::table::all(&tell, options);
        Self { tell, options, table, press: Press::new(own) }
    }

    /// How many pages there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.table.rows().len()
    }

    /// The pages that there will be: the file name of each, the car and the year it is about.
    pub fn pages(&self) -> impl Iterator<Item = (&str, Option<CarId>, Option<i16>)> {
        self.table.rows().iter().map(|row| (row.file.as_str(), row.listed.key.car(), row.listed.year))
    }

    /// Makes every page and hands each over as soon as it is whole: the book's pages, `index.html` first, then each car's,
    /// year by year. Never more than a few dozen are held.
    pub fn stream(&self, sink: &mut dyn FnMut(Result<Page, Failed>)) {
        page::stream::stream(&self.tell, self.options, &self.table, &self.press, sink);
    }

    /// The fingerprint of every page by its file name: what it tells, without where its lines stand and its foot.
    #[must_use]
    pub fn prints(&self) -> Vec<(String, PagePrint)> {
        page::stream::prints(&self.tell, self.options, &self.table)
    }

    /// Makes the page of that file name alone, the same as among all; `None` where the book has none of it.
    #[must_use]
    pub fn page(&self, file: &str) -> Option<Result<Page, Failed>> {
        page::stream::one(&self.tell, self.options, &self.table, &self.press, file)
    }
}

/// Makes every page and keeps them all, for tests and small books.
///
/// # Errors
/// When a template does not fit its view; a mistake of ours, never of the book.
pub fn render(compiled: &Compiled, options: Options) -> Result<Vec<Page>, String> {
    let mut pages = Vec::new();
    let mut failed = None;
    Report::new(compiled, options, &Own::new()).stream(&mut |page| match page {
        Ok(page) => pages.push(page),
        Err(error) => failed = Some(format!("page {}: {:?}", error.page, error.fault)),
    });
    failed.map_or(Ok(pages), Err)
}
