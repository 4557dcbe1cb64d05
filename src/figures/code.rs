//! The figures that the program works out: what is no arithmetic of named values. Why not, their declarations say.
//!
//! Must not know how any figure is worked out.

use super::calc::{Calc, Got};
use crate::book::place::Place;
use rustc_hash::FxHashMap;
use std::sync::LazyLock;

/// A figure's name, and what works it out at a place.
pub(super) type Code = (&'static str, Compute);

/// Works a figure out at a place.
pub(super) type Compute = fn(&mut Calc<'_>, Place) -> Got;

static CODE: LazyLock<FxHashMap<&'static str, Compute>> = LazyLock::new(|| {
    let fields: &[&'static [Code]] = &[
        super::weights::FIGURES,
        super::cg::FIGURES,
        super::bench::FIGURES,
        super::bench::finder::FIGURES,
        super::springs::FIGURES,
        super::roll::FIGURES,
        super::alignment::FIGURES,
        super::tyres::pressure::FIGURES,
        super::tyres::size::FIGURES,
        super::gearing::FIGURES,
        super::wear::FIGURES,
        super::engine::leakdown::FIGURES,
        super::engine::cylinders::FIGURES,
        super::engine::lash::FIGURES,
        super::injectors::FIGURES,
    ];
    fields.iter().copied().flatten().copied().collect()
});

/// What works out the figure of that name.
pub(super) fn find(name: &str) -> Option<Compute> {
    CODE.get(name).copied()
}

/// The names of the figures that the program works out.
pub fn in_code() -> impl Iterator<Item = &'static str> {
    CODE.keys().copied()
}
