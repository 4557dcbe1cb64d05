//! A value put in place of the book's, to see what it would do.
//!
//! Must not know what it does.

use crate::book::place::Place;
use crate::units::UnitId;
use crate::vocabulary::QuantityId;

/// A value put in place of the book's, to see what it would do.
#[derive(Debug, Clone)]
pub struct Supposed {
    /// The quantity.
    pub quantity: QuantityId,
    /// The place.
    pub place: Place,
    /// SI; nothing that counts where it is off.
    pub value: f64,
    /// It is disconnected, and has no value.
    pub off: bool,
    /// The unit it was typed in, and how many decimals; of what was not typed, none.
    pub typed: Option<(UnitId, u8)>,
    /// What a step of it is called.
    pub words: String,
    /// Which supposing of this calculation it was: no two are alike, so the last one that stands tells all of them.
    pub(super) turn: u32,
}
