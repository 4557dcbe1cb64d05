//! The hand-over book: a page that stands alone, for it leaves the shop without the others.
//!
//! Must not know what stands on it.

use super::print;
use crate::audience::Purchase;
use crate::report::section::handover::{self, Handover};
use crate::report::teller::Teller;

/// Its template in `report-templates/`.
pub(in crate::report) const TEMPLATE: &str = "handover.html";

/// The view with its fingerprint.
pub(in crate::report) fn view(tell: &Teller<'_>, purchase: &Purchase) -> Handover {
    let mut view = handover::view(tell, purchase);
    view.frame.print = print::of(&view);
    view
}
