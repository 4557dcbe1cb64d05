//! The hand-over book: a page that stands alone, for it leaves the shop without the others.
//!
//! Must not know what stands on it.

use super::{paste, print};
use crate::audience::Purchase;
use crate::book::handed::PagePrint;
use crate::report::section::handover::{self, Handover};
use crate::report::teller::Teller;

/// Its template in `report-templates/`.
pub(in crate::report) const TEMPLATE: &str = "handover.html";

/// The view with its fingerprint.
pub(in crate::report) fn view(tell: &Teller<'_>, purchase: &Purchase) -> Handover {
    let mut view = handover::view(tell, purchase);
    let print = print::of(&view);
    view.frame.handed = paste::hand_over(tell, purchase, print);
    view.frame.print = print.words();
    view
}

/// The fingerprint of what it tells.
pub(in crate::report) fn print(tell: &Teller<'_>, purchase: &Purchase) -> PagePrint {
    print::of(&handover::view(tell, purchase))
}
