//! Which pages there are, what they are called, and how each is made. One file a sort of page.
//!
//! A sort of page is a view that implements [`Sort`], its template, and one line in [`SORTS`]. Must not know what stands
//! on any page.

pub(super) mod alignment;
mod at_end;
mod bench;
pub(super) mod card;
mod client;
mod costs;
pub(super) mod crash;
mod diff;
mod due;
pub(super) mod engine;
pub(super) mod event;
mod filters;
pub(in crate::report) mod handover;
mod index;
mod kind;
pub(super) mod load;
pub(super) mod monday;
pub(super) mod now;
mod part;
mod paste;
pub(super) mod power;
pub(super) mod press;
pub(in crate::report) mod print;
mod season;
pub(super) mod sheet;
pub(super) mod spare;
pub(super) mod stream;
pub(super) mod table;
mod usage;

use super::section::frame::Frame;
use super::teller::Teller;
use crate::book::handed::PagePrint;
use crate::book::model::{CarId, EventId};
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::key::Listed;
#[cfg(feature = "schema")]
use crate::report::shape;
use crate::report::shape::Shape;
use crate::report::table::PageSort;
use press::{Failed, Press};
use serde::Serialize;

/// Every sort of page, in the order in which the first page links to them.
pub(super) const SORTS: &[Maker] = &[
    Maker::of::<super::section::index::Index>(),
    Maker::of::<super::section::due::DueList>(),
    Maker::of::<super::section::client::ClientPage>(),
    Maker::of::<super::section::monday::MondayList>(),
    Maker::of::<super::section::event::EventPage>(),
    Maker::of::<super::section::load::Load>(),
    Maker::of::<super::section::bench::Bench>(),
    Maker::of::<super::section::lives::KindPage>(),
    Maker::of::<super::section::part::PartPage>(),
    Maker::of::<super::section::now::Now>(),
    Maker::of::<super::section::sheet::SetupSheet>(),
    Maker::of::<super::section::card::ScrutinyCard>(),
    Maker::of::<super::section::alignment::AlignmentSheet>(),
    Maker::of::<super::section::spare::SparePage>(),
    Maker::of::<super::section::power::PowerCard>(),
    Maker::of::<super::section::engine::EngineCheck>(),
    Maker::of::<super::section::crash::Crash>(),
    Maker::of::<super::section::costs::CostsPage>(),
    Maker::of::<super::section::season::Season>(),
    Maker::of::<super::section::usage::UsagePage>(),
    Maker::of::<super::section::diff::DiffPage>(),
];

/// A view that is a page of its own.
pub(in crate::report) trait Sort: Serialize + Shape + Sized {
    /// Its template in `report-templates/`.
    const TEMPLATE: &'static str;

    /// What stands over the links to pages of this sort on the first page; empty where the link says it all.
    const HEADING: &'static str = "";

    /// Whether the first page links to each of them; pages that are reached from another page only are not.
    const LISTED: bool = true;

    /// Whether one page may tell of the whole book: such pages are made one at a time.
    const LARGE: bool = false;

    /// The pages that belong to no car.
    fn of_book(_tell: &Teller<'_>, _options: Options) -> Vec<Listed> {
        Vec::new()
    }

    /// The pages of a car, in order.
    fn of_car(_tell: &Teller<'_>, _options: Options, _car: CarId) -> Vec<Listed> {
        Vec::new()
    }

    /// The events whose figures the page shows.
    fn events(_tell: &Teller<'_>, _key: Key) -> Vec<EventId> {
        Vec::new()
    }

    /// Makes the view; `None` where the key is of another sort.
    fn view(desk: &Desk<'_>, key: Key) -> Option<Self>;

    /// Its title and footer.
    fn frame(&mut self) -> &mut Frame;
}

/// A [`Sort`] as the list holds it.
#[derive(Clone, Copy)]
pub(in crate::report) struct Maker {
    /// Its template.
    pub template: &'static str,
    heading: &'static str,
    listed: bool,
    large: bool,
    of_book: fn(&Teller<'_>, Options) -> Vec<Listed>,
    of_car: fn(&Teller<'_>, Options, CarId) -> Vec<Listed>,
    events: fn(&Teller<'_>, Key) -> Vec<EventId>,
    /// The shape of its view.
    #[cfg(feature = "schema")]
    pub schema: fn() -> schemars::Schema,
    page: fn(&Press<'_>, &Desk<'_>, Key, &str) -> Option<Result<press::Page, Failed>>,
    /// The view of a page, as JSON.
    json: fn(&Desk<'_>, Key) -> Option<String>,
    /// The fingerprint of what a page tells.
    pub print: fn(&Desk<'_>, Key) -> Option<PagePrint>,
}

impl Maker {
    /// What the table keeps of it, under its number in [`SORTS`].
    const fn sort(&self, number: usize) -> PageSort {
        PageSort { number, heading: self.heading, listed: self.listed, large: self.large }
    }

    const fn of<S: Sort>() -> Self {
        Self {
            template: S::TEMPLATE,
            heading: S::HEADING,
            listed: S::LISTED,
            large: S::LARGE,
            of_book: S::of_book,
            of_car: S::of_car,
            events: S::events,
            #[cfg(feature = "schema")]
            schema: shape::of::<S>,
            page: |press, desk, key, file| {
                let mut view = made::<S>(desk, key)?;
                let title = view.frame().title.clone();
                Some(press.page(S::TEMPLATE, file, title, &view))
            },
            print: |desk, key| Some(print::of(&S::view(desk, key)?)),
            json: |desk, key| Some(crate::visible::json(&made::<S>(desk, key)?)),
        }
    }
}

/// A view with its fingerprint.
fn made<S: Sort>(desk: &Desk<'_>, key: Key) -> Option<S> {
    let mut view = S::view(desk, key)?;
    view.frame().home = desk.table.link(Key::Index).is_some();
    let print = print::of(&view);
    view.frame().handed = paste::line(desk.tell, key, print);
    view.frame().print = print.words();
    Some(view)
}
