//! What a page may lean on, and what is to be written.
//!
//! Must not know how any page is made.

use crate::book::model::{CarId, ClientId};
use crate::report::section::figures::sheet::Sheets;
use crate::report::table::PageTable;
use crate::report::teller::Teller;

/// What a page may lean on.
pub(in crate::report) struct Desk<'a> {
    /// The book, and words for it.
    pub tell: &'a Teller<'a>,
    /// What was asked for.
    pub options: Options,
    /// Every page there will be, for links.
    pub table: &'a PageTable,
    /// The figures of the events that its sort asked for.
    pub sheets: &'a Sheets,
}

/// What to write.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Options {
    /// Only this car.
    pub car: Option<CarId>,
    /// Only this year.
    pub season: Option<i16>,
    /// The client whom the book was cut for, for his letter.
    pub client: Option<ClientId>,
    /// A page for every part too.
    pub parts: bool,
}

impl Options {
    /// Whether the whole book is asked for, so that the pages of the shop are written.
    #[must_use]
    pub const fn whole(self) -> bool {
        self.car.is_none() && self.season.is_none()
    }
}
