//! The hand-over book: a page that stands alone, for it leaves the shop without the others.
//!
//! Must not know what stands on it.

use super::print;
use crate::audience::Purchase;
use crate::report::section::handover::{self, Handover};
use crate::report::teller::Teller;

/// Its template in `report-templates/`.
pub(in crate::report) const TEMPLATE: &str = "handover.html";

/// The shape of its view.
pub(in crate::report) fn schema() -> schemars::Schema {
    schemars::generate::SchemaGenerator::default().into_root_schema_for::<Handover>()
}

/// The view with its fingerprint.
pub(in crate::report) fn view(tell: &Teller<'_>, purchase: &Purchase) -> Handover {
    let mut view = handover::view(tell, purchase);
    view.frame.print = print::of(&view);
    view
}
