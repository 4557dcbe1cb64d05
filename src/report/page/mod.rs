//! Which pages there are, what they are called, and how each is made. One file a sort of page.
//!
//! A sort of page is a view that implements [`Sort`], its template, and one line in [`SORTS`]. Must not know what stands
//! on any page.

mod bench;
mod client;
mod costs;
pub(super) mod crash;
mod diff;
mod due;
mod filters;
pub(in crate::report) mod handover;
mod index;
mod kind;
pub(super) mod load;
pub(super) mod now;
mod part;
pub(super) mod press;
pub(in crate::report) mod print;
mod season;
pub(super) mod sheet;
pub(super) mod stream;
pub(super) mod table;
mod usage;

use super::Options;
use super::section::figures::sheet::Sheets;
use super::section::frame::Frame;
use super::teller::Teller;
use crate::book::entry::EntryId;
use crate::book::model::{CarId, ClientId, EventId, KindId, PartId};
use press::{Failed, Press};
use schemars::JsonSchema;
use serde::Serialize;
use table::PageTable;

/// Every sort of page, in the order in which the first page links to them.
pub(super) const SORTS: &[Maker] = &[
    Maker::of::<super::section::index::Index>(),
    Maker::of::<super::section::due::DueList>(),
    Maker::of::<super::section::client::ClientPage>(),
    Maker::of::<super::section::load::Load>(),
    Maker::of::<super::section::bench::Bench>(),
    Maker::of::<super::section::lives::KindPage>(),
    Maker::of::<super::section::part::PartPage>(),
    Maker::of::<super::section::now::Now>(),
    Maker::of::<super::section::sheet::SetupSheet>(),
    Maker::of::<super::section::crash::Crash>(),
    Maker::of::<super::section::costs::CostsPage>(),
    Maker::of::<super::section::season::Season>(),
    Maker::of::<super::section::usage::UsagePage>(),
    Maker::of::<super::section::diff::DiffPage>(),
];

/// Names one page of the book: its sort, and what it is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::report) enum Key {
    /// The first page.
    Index,
    /// What to load for an event.
    Load(EventId),
    /// The rate book.
    Bench,
    /// The letter to a client.
    Client(ClientId),
    /// A car after an impact: the line of the `hit`.
    Crash(CarId, EntryId),
    /// A car between sessions.
    Now(CarId),
    /// A car's setup for an event.
    Sheet(CarId, EventId),
    /// The shop's costs of a year.
    Costs(i16),
    /// What is due before the next event.
    Due,
    /// How long the parts of a kind last.
    Kind(KindId),
    /// A part's travel.
    Part(PartId),
    /// A car's season.
    Season(CarId, i16),
    /// Which part was where on a car in a year.
    Usage(CarId, i16),
    /// What changed on a car between two events.
    Diff(CarId, EventId, EventId),
}

/// A page that is to be made, as its sort lists it.
#[derive(Debug, Clone)]
pub(in crate::report) struct Listed {
    /// Which.
    pub key: Key,
    /// What its file name is made of: `["bittern", "2026"]` becomes `bittern-2026.html`.
    pub name: Vec<String>,
    /// The words of a link to it.
    pub text: String,
    /// A remark after the link; may be empty.
    pub remark: &'static str,
    /// The year it is about. Pages of one car and year are made together and share that car's figures; the season's page
    /// links to them, the first page only to the latest year's.
    pub year: Option<i16>,
}

/// What a page may lean on.
pub(in crate::report) struct Desk<'a> {
    /// The book, and words for it.
    pub tell: &'a Teller<'a>,
    /// What was asked for.
    pub options: Options,
    /// Every page there will be, for links.
    pub table: &'a PageTable,
    /// The figures of the events that [`Sort::events`] asked for.
    pub sheets: &'a Sheets,
}

/// A view that is a page of its own.
pub(in crate::report) trait Sort: Serialize + JsonSchema + Sized {
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
    pub schema: fn() -> schemars::Schema,
    page: fn(&Press<'_>, &Desk<'_>, Key, &str) -> Option<Result<super::Page, Failed>>,
    /// The view of a page, as JSON.
    json: fn(&Desk<'_>, Key) -> Option<String>,
}

impl Maker {
    const fn of<S: Sort>() -> Self {
        Self {
            template: S::TEMPLATE,
            heading: S::HEADING,
            listed: S::LISTED,
            large: S::LARGE,
            of_book: S::of_book,
            of_car: S::of_car,
            events: S::events,
            schema: || schemars::generate::SchemaGenerator::default().into_root_schema_for::<S>(),
            page: |press, desk, key, file| {
                let mut view = made::<S>(desk, key)?;
                let title = view.frame().title.clone();
                Some(press.page(S::TEMPLATE, file, title, &view))
            },
            json: |desk, key| Some(crate::visible::json(&made::<S>(desk, key)?)),
        }
    }
}

/// A view with its fingerprint.
fn made<S: Sort>(desk: &Desk<'_>, key: Key) -> Option<S> {
    let mut view = S::view(desk, key)?;
    view.frame().home = desk.table.link(Key::Index).is_some();
    let print = print::of(&view);
    view.frame().print = print;
    Some(view)
}

impl Key {
    /// The car it is about.
    pub fn car(self) -> Option<CarId> {
        match self {
            Self::Season(car, _)
            | Self::Usage(car, _)
            | Self::Diff(car, ..)
            | Self::Sheet(car, _)
            | Self::Now(car)
            | Self::Crash(car, _) => Some(car),
            Self::Index
            | Self::Due
            | Self::Bench
            | Self::Client(_)
            | Self::Load(_)
            | Self::Costs(_)
            | Self::Kind(_)
            | Self::Part(_) => None,
        }
    }
}
