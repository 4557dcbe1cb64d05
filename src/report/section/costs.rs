//! The shop's costs of a year, car by car.
//!
//! Must not know how a total is made.

use super::frame::{self, Frame};
use super::money::{self, ShownMoney};
use crate::book::model::CarId;
use crate::report::desk::Desk;
use crate::report::key::Key;
use serde::Serialize;

/// The shop's costs of a year: cars by kinds, for the running, failures, quotes.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct CostsPage {
    /// Title and footer.
    pub frame: Frame,
    /// What things cost.
    pub money: Option<ShownMoney>,
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>, year: i16) -> CostsPage {
    let href =
        |car: CarId| desk.table.link(Key::Season(car, year)).map_or_else(String::new, |link| link.href);
    let mut frame =
        frame::frame(desk.tell, format!("What {year} cost"), "every car, by kind".to_owned(), None);
    frame.errors |= desk.tell.any_error();
    CostsPage { frame, money: money::of_shop(desk.tell, year, &href) }
}
