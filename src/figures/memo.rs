//! Figures worked out already, and why a way to one cannot be gone.
//!
//! Must not know how a figure is worked out.

use crate::book::entry::EntryId;
use crate::book::figure::FigureId;
use crate::book::model::PartId;
use crate::book::place::Place;
use crate::figures::calc::{Got, Missing};
use crate::history::gauges::Terms;
use crate::history::likeness::Horizon;
use crate::history::order::Rank;
use rustc_hash::FxHashMap;

/// What a figure was worked out for: itself, its place, the moment, the part and the one against it, the values supposed (by
/// the last of them), up to when readings are taken, and which are in the terms of one gauge.
pub(super) type Key =
    (FigureId, Place, (Rank, Option<EntryId>), [Option<PartId>; 2], u32, Vec<Horizon>, Vec<Terms>);

/// Figures worked out already, and those on the way.
#[derive(Debug, Default)]
pub(super) struct Memo {
    pub(super) known: FxHashMap<Key, Got>,
    pub(super) on_the_way: Vec<Key>,
    /// A circle was met since the figure on the way began: what is missing for it may be had from elsewhere.
    pub(super) circle: bool,
}

/// Why a way cannot be gone.
pub(super) enum Stop {
    /// Something is not in the book: another way may do.
    Lacks(Missing),
    /// Something in the book cannot be: no way does.
    Refused(Missing),
}

impl From<Missing> for Stop {
    fn from(missing: Missing) -> Self {
        Self::Lacks(missing)
    }
}
